import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import type { TestForm } from '../../../trials/schema/scale-form.ts';
import { usualCups } from '../../../trials/schema/usual-cups.ts';
import { count, readNumber } from '../numbers.ts';

/** How a sitting asks: scores on the brief's questions, or a test of whether two drinks can be told apart. */
export type Asking = 'scores' | TestForm;

/** A sitting before its codes are drawn. */
export interface SittingDraft {
  label: string;
  assessors: string;
  knowing: readonly string[];
  mixes: readonly string[];
  replicates: string;
  reference: boolean;
  warmup: boolean;
  asking: Asking;
  /** What the stronger drink has more of, and which that should be: for a forced choice. */
  of: string;
  stronger: string;
  alone: boolean;
  goBack: boolean;
  restSeconds: string;
  longRestMinutes: string;
}

/** A sitting as it most likely will be: the same people as before, the mixes nobody has tasted yet, as many as fit. */
export function likelySitting(trial: TrialView, round: RoundView): SittingDraft {
  const { panel, attributes } = trial.brief;
  const all = trial.roundViews.flatMap(({ sittings }) => sittings);
  const people = all.at(-1)?.assessors ?? Array.from({ length: panel.assessors }, (_, i) => `P${i + 1}`);
  const reference = attributes.some(({ target }) => target === 'reference');
  const room = Math.max(1, panel.cupsPerSitting - (reference ? 1 : 0));
  const fresh = untasted(round).slice(0, room);
  return {
    label: `Sitting ${all.length + 1}`,
    assessors: people.join(', '),
    knowing: [],
    mixes: fresh.length > 0 ? fresh : round.mixes.map(({ mix }) => mix).slice(0, room),
    replicates: String(panel.replicates),
    reference,
    warmup: false,
    asking: 'scores',
    of: '',
    stronger: '',
    alone: false,
    goBack: false,
    restSeconds: panel.lingers ? '120' : '60',
    longRestMinutes: '10',
  };
}

/** Mixes of a round that no sitting pours to be scored. */
export function untasted({ mixes, sittings }: RoundView): string[] {
  const poured = new Set(sittings.flatMap((sitting) => (sitting.test === null ? sitting.mixes : [])));
  return mixes.map(({ mix }) => mix).filter((mix) => !poured.has(mix));
}

/** `P1, P2` or a line each. */
export function namesIn(text: string): string[] {
  return text
    .split(/[,;\n]/)
    .map((name) => name.trim())
    .filter((name) => name !== '');
}

/** The drinks that are poured. */
export function drinksOf({ mixes, reference }: SittingDraft): string[] {
  return [...mixes, ...(reference ? ['reference'] : [])];
}

/** Cups in one set of a test. */
const SET_SIZE: Record<TestForm, number> = {
  triangle: 3,
  'duo-trio': 3,
  tetrad: 4,
  'two-afc': 2,
  'three-afc': 3,
};

/** Cups of one taster. */
export function cupsEach(draft: SittingDraft): number {
  const times = readNumber(draft.replicates) ?? 1;
  if (draft.asking !== 'scores') return times * SET_SIZE[draft.asking];
  return drinksOf(draft).length * times + (draft.warmup ? 1 : 0);
}

/** Whether the form needs to know which drink should be the stronger. */
export function isForced(asking: Asking): boolean {
  return asking === 'two-afc' || asking === 'three-afc';
}

/** What is wrong with it, in words, or null. */
export function sittingFault(draft: SittingDraft): string | null {
  const names = namesIn(draft.assessors);
  if (draft.label.trim() === '') return 'Give the sitting a name, such as the day.';
  if (names.length === 0) return 'Name at least one taster.';
  if (new Set(names).size < names.length) return 'One taster is named twice.';
  if (draft.mixes.length === 0) return 'Choose at least one mix.';
  if (draft.asking === 'scores') return null;
  if (drinksOf(draft).length !== 2) return 'A test is between two drinks: choose two, the reference counted.';
  if (isForced(draft.asking) && !drinksOf(draft).includes(draft.stronger))
    return 'Say which of the two should be the stronger.';
  return isForced(draft.asking) && draft.of.trim() === '' ? 'Say what the stronger one has more of.' : null;
}

/** What to mind before drawing: more cups than can be judged. */
export function sittingCare(draft: SittingDraft, lingers: boolean): string | null {
  const cups = cupsEach(draft) - (draft.warmup ? 1 : 0);
  const usual = usualCups(lingers);
  if (cups <= usual) return null;
  const why = lingers ? 'this taste lingers' : 'noses dull';
  return `${count(cups, 'cup')} for each: ${why}, ${usual} at a sitting are enough. Two sittings are better than a long one.`;
}

/** The draft as it is sent. */
export function requestOf(draft: SittingDraft) {
  const { label, assessors, knowing, mixes, reference, warmup, asking, alone, goBack } = draft;
  const isTest = asking !== 'scores';
  const stronger = isForced(asking) ? { stronger: draft.stronger } : {};
  return {
    label: label.trim(),
    assessors: namesIn(assessors),
    knowing: [...knowing],
    mixes: [...mixes],
    replicates: readNumber(draft.replicates) ?? 1,
    reference,
    warmup: warmup && !isTest,
    alone: alone && !isTest,
    goBack,
    restSeconds: readNumber(draft.restSeconds) ?? 60,
    longRestSeconds: Math.round(60 * (readNumber(draft.longRestMinutes) ?? 10)),
    ...(isTest ? { test: { form: asking, of: draft.of.trim(), ...stronger } } : {}),
  };
}
