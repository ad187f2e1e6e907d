import { planDifference } from '../../engine/difference/plan-difference.ts';
import { planPreference, readPreference } from '../../engine/difference/preference.ts';
import { readDifference } from '../../engine/difference/read-difference.ts';
import { readReplicated } from '../../engine/difference/read-replicated.ts';
import { planSimilarity, readSimilarity } from '../../engine/difference/similarity.ts';
import type { Claim, TestReading } from '../schema/api.ts';
import type { TestForm } from '../schema/scale-form.ts';

type Answers = TestReading['byAssessor'];
type Found = NonNullable<TestReading['claim']>;

/** A difference that people call clear, and a preference that is worth having: what a plan asks for. */
const CLEAR = 1;
const CLEAR_PREFERENCE = 0.7;

/**
 * What a claim fixed beforehand came to. That two are alike is never taken from a failed difference test: it is
 * shown where so few right answers would be rare at the limit, and otherwise said to be not shown, with the answers
 * that it would take.
 */
export function readClaim(claim: Claim, form: TestForm, byAssessor: Answers): Found {
  const trials = byAssessor.reduce((sum, one) => sum + one.trials, 0);
  const correct = byAssessor.reduce((sum, one) => sum + one.correct, 0);
  const found = judge(claim, form, { trials, correct, byAssessor });
  const repeated = byAssessor.some((one) => one.trials > 1);
  const whose =
    repeated && claim.kind !== 'different'
      ? ` Several answers came from each taster, so this speaks of these ${byAssessor.length}, not of people in general.`
      : '';
  return { kind: claim.kind, ...found, says: `${found.says}${whose}` };
}

interface Counted {
  trials: number;
  correct: number;
  byAssessor: Answers;
}

function judge(claim: Claim, form: TestForm, counted: Counted): Omit<Found, 'kind'> {
  const { trials, correct, byAssessor } = counted;
  const { alpha, limit } = claim;
  if (claim.kind === 'alike') {
    const effect = { proportionAbove: limit, alpha };
    const { similar, most, says } = readSimilarity(form, trials, correct, effect);
    const wouldTake = planSimilarity(form, effect).trials;
    return { shown: similar, bound: most, wouldTake, says: withWouldTake(says, similar, trials, wouldTake) };
  }
  if (claim.kind === 'preferred') {
    const { needed, says } = readPreference(correct, trials - correct);
    const shown = needed !== null && correct >= needed;
    const wouldTake = planPreference(CLEAR_PREFERENCE)?.trials ?? null;
    const named = `The first is the new one: ${says}`;
    return { shown, bound: needed, wouldTake, says: withWouldTake(named, shown, trials, wouldTake) };
  }
  const repeated = byAssessor.length > 1 && byAssessor.some((one) => one.trials > 1);
  const { p, needed, says } = repeated
    ? readReplicated(form, byAssessor)
    : readDifference(form, trials, correct, { alpha });
  const shown = p <= alpha;
  const wouldTake = planDifference(form, { dPrime: CLEAR, alpha }).trials;
  return { shown, bound: needed, wouldTake, says: withWouldTake(says, shown, trials, wouldTake) };
}

function withWouldTake(says: string, shown: boolean, trials: number, wouldTake: number | null): string {
  if (shown || wouldTake === null || wouldTake <= trials) return says;
  return `${says} It would take ${wouldTake} answers, each of another taster, to show it four times in five.`;
}
