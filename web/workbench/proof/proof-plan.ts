import { smallestDetectable } from '../../../engine/difference/detectable.ts';
import { planDifference } from '../../../engine/difference/plan-difference.ts';
import { planPreference } from '../../../engine/difference/preference.ts';
import { planSimilarity, readSimilarity } from '../../../engine/difference/similarity.ts';
import type { Claim, TrialView } from '../../../trials/schema/api.ts';
import type { TestForm } from '../../../trials/schema/scale-form.ts';
import { namesIn } from '../bench/sitting-draft.ts';
import { readNumber } from '../numbers.ts';

/** A blind proof before its codes are drawn. */
export interface ProofDraft {
  label: string;
  kind: Claim['kind'];
  form: TestForm;
  assessors: string;
  sets: string;
  /** Tasters of a hundred who can tell, from which on it would matter. */
  limit: string;
}

/** What is asked for, in words, and what so many answers can show. */
export interface ProofPlan {
  answers: number;
  says: string[];
  fault: string | null;
}

/** The proof as it most likely will be: the same people as before. */
export function likelyProof(trial: TrialView, against: string | null): ProofDraft {
  const all = trial.roundViews.flatMap(({ sittings }) => sittings);
  const usual = Array.from({ length: trial.brief.panel.assessors }, (_, i) => `P${i + 1}`);
  return {
    // Tasters see this name: it tells nothing.
    label: `Sitting ${all.length + 1}`,
    kind: against === null ? 'alike' : 'preferred',
    form: 'triangle',
    assessors: (all.at(-1)?.assessors ?? usual).join(', '),
    sets: '1',
    limit: '30',
  };
}

/** The form a claim is tested in: a preference takes two cups. */
export function formOfProof({ kind, form }: ProofDraft): TestForm {
  return kind === 'preferred' ? 'two-afc' : form;
}

const ALPHA = 0.05;

/** How many answers a claim takes, and what the people at hand can show. */
export function planProof(draft: ProofDraft): ProofPlan {
  const people = namesIn(draft.assessors);
  const sets = readNumber(draft.sets);
  const limit = (readNumber(draft.limit) ?? Number.NaN) / 100;
  const fault = faultOf(draft, people, sets, limit);
  if (fault !== null) return { answers: 0, says: [], fault };
  const answers = people.length * sets!;
  const form = formOfProof(draft);
  return {
    answers,
    says: [wanted(draft.kind, form, limit), atHand(draft.kind, form, limit, answers)],
    fault,
  };
}

function faultOf(draft: ProofDraft, people: readonly string[], sets: number | null, limit: number) {
  if (draft.label.trim() === '') return 'Give the sitting a name, such as the day.';
  if (people.length === 0) return 'Name at least one taster.';
  if (new Set(people).size < people.length) return 'One taster is named twice.';
  if (sets === null || !Number.isInteger(sets) || sets < 1 || sets > 20) return 'Sets each: 1 to 20.';
  if (draft.kind === 'alike' && !(limit > 0 && limit < 1)) return 'The limit: above 0 and below 100 of 100.';
  return null;
}

function wanted(kind: ProofDraft['kind'], form: TestForm, limit: number): string {
  if (kind === 'alike') return planSimilarity(form, { proportionAbove: limit, alpha: ALPHA }).says;
  if (kind === 'different') return planDifference(form, { dPrime: 1, alpha: ALPHA }).says;
  const trials = planPreference(0.7)?.trials ?? null;
  return `If 70 in 100 prefer it, ${trials ?? 'very many'} answers show that four times in five.`;
}

function atHand(kind: ProofDraft['kind'], form: TestForm, limit: number, answers: number): string {
  if (kind === 'alike') {
    const { most } = readSimilarity(form, answers, 0, { proportionAbove: limit, alpha: ALPHA });
    return most === null
      ? `You have ${answers}: no result could show it. Nothing is proved by too few.`
      : `You have ${answers}: at most ${most} right answers would show it.`;
  }
  if (kind === 'different') return smallestDetectable(form, answers).says;
  return `You have ${answers}. One answer from each of many tells more than many from each of few.`;
}
