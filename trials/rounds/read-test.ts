import { readDifference } from '../../engine/difference/read-difference.ts';
import { readReplicated } from '../../engine/difference/read-replicated.ts';
import { rightPlaces } from '../../engine/difference/test-sets.ts';
import type { TestReading } from '../schema/api.ts';
import type { TestForm } from '../schema/scale-form.ts';
import type { Store } from '../store/store.ts';
import { type Part, partsOf } from './cup-parts.ts';
import { findSitting } from './find.ts';
import { readClaim } from './read-claim.ts';
import { conflict } from './refusal.ts';
import type { SittingPlace } from './sitting-life.ts';

/**
 * What a difference test came to: right answers by taster and over all, and what may be said of them. Late answers
 * are not read.
 * @throws Refusal `conflict` for a sitting with scores, or while its key is sealed
 */
export function readTest(store: Store, { trial, sitting }: SittingPlace): TestReading {
  const { manner, key, label } = findSitting(store, trial, sitting);
  const { test } = manner;
  if (test === undefined) throw conflict(`${label} holds scores, not a difference test`);
  if (key === 'sealed') throw conflict(`the key of ${label} is sealed`);
  const chosen = new Map(
    store.answers.counted(trial, sitting, false).map((one) => [`${one.assessor}\n${one.code}`, one.value]),
  );
  const parts = partsOf(store.sittings.cups(trial, sitting));
  const answers = parts.flatMap((part) => {
    const [first] = part.cups as [Part['cups'][number]];
    const value = chosen.get(`${first.assessor}\n${first.code}`);
    if (typeof value !== 'number') return [];
    return [{ assessor: first.assessor, right: isRight(test.form, part, value, test.stronger ?? '') }];
  });
  const names = [...new Set(answers.map(({ assessor }) => assessor))];
  const byAssessor = names.map((assessor) => {
    const own = answers.filter((one) => one.assessor === assessor);
    return { assessor, trials: own.length, correct: own.filter(({ right }) => right).length };
  });
  const correct = answers.filter(({ right }) => right).length;
  return {
    sitting,
    method: test.form,
    of: test.of,
    trials: answers.length,
    correct,
    byAssessor,
    result: answers.length === 0 ? null : resultOf(test.form, byAssessor),
    claim: answers.length === 0 || !test.claim ? null : readClaim(test.claim, test.form, byAssessor),
  };
}

function isRight(form: TestForm, { cups }: Part, code: number, stronger: string): boolean {
  const drinks = cups.map(({ mix }) => mix);
  return rightPlaces(form, drinks, stronger).some((place) => cups[place]!.code === String(code));
}

/** One answer a taster is read by the binomial; several by the beta-binomial, since answers of one taster are alike. */
function resultOf(form: TestForm, answers: TestReading['byAssessor']): TestReading['result'] {
  const trials = answers.reduce((sum, one) => sum + one.trials, 0);
  const correct = answers.reduce((sum, one) => sum + one.correct, 0);
  const repeated = answers.length > 1 && answers.some((one) => one.trials > 1);
  const found = repeated ? readReplicated(form, answers) : readDifference(form, trials, correct);
  const { p, needed, proportionAbove, interval, dPrime, says } = found;
  return { p, needed, proportionAbove, interval: [interval[0], interval[1]], dPrime, says };
}
