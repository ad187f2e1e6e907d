import type { RoundView, TrialView } from '../../../trials/schema/api.ts';

/** A sitting before its codes are drawn. */
export interface SittingDraft {
  label: string;
  assessors: string;
  knowing: readonly string[];
  mixes: readonly string[];
  replicates: string;
  reference: boolean;
  warmup: boolean;
}

/** A sitting as it most likely will be: the same people as before, the mixes nobody has tasted yet, as many as fit. */
export function likelySitting(trial: TrialView, round: RoundView): SittingDraft {
  const { panel, attributes } = trial.brief;
  const all = trial.roundViews.flatMap(({ sittings }) => sittings);
  const people = all.at(-1)?.assessors ?? Array.from({ length: panel.assessors }, (_, i) => `P${i + 1}`);
  const reference = attributes.some(({ target }) => target === 'reference');
  const room = Math.max(1, panel.cupsPerSitting - (reference ? 1 : 0));
  const poured = room * round.sittings.length;
  const fresh = round.mixes.map(({ mix }) => mix).slice(poured, poured + room);
  return {
    label: `Sitting ${all.length + 1}`,
    assessors: people.join(', '),
    knowing: [],
    mixes: fresh.length > 0 ? fresh : round.mixes.map(({ mix }) => mix).slice(0, room),
    replicates: String(panel.replicates),
    reference,
    warmup: false,
  };
}

/** `P1, P2` or a line each. */
export function namesIn(text: string): string[] {
  return text
    .split(/[,;\n]/)
    .map((name) => name.trim())
    .filter((name) => name !== '');
}

/** What is wrong with it, in words, or null. */
export function sittingFault(draft: SittingDraft): string | null {
  const names = namesIn(draft.assessors);
  if (draft.label.trim() === '') return 'Give the sitting a name, such as the day.';
  if (names.length === 0) return 'Name at least one taster.';
  if (new Set(names).size < names.length) return 'One taster is named twice.';
  if (draft.mixes.length === 0) return 'Choose at least one mix.';
  return null;
}
