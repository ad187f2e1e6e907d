import type { Reading, TrialView } from '../../../trials/schema/api.ts';
import type { AimedAttribute } from '../../charts/aims.ts';
import { type AttributeFit, type AttributeReading, readOf } from '../results.ts';
import { aimsOf } from './aims-of.ts';

/** A mix as it was weighed, as pictures need it. */
export interface WeighedMix {
  mix: string;
  shares: number[];
  settings: Record<string, number>;
  /** Sittings in which it was poured. */
  pours: number;
}

/** A stored reading with what the trial knows around it. */
export interface ReadingView {
  trial: TrialView;
  stored: Reading;
  panel: readonly AttributeReading[];
  fit: readonly AttributeFit[];
  attributes: readonly AimedAttribute[];
  mixes: readonly WeighedMix[];
  tasters: number;
  nameOf: (attribute: string) => string;
}

/** Puts a reading beside the brief and the mixes as weighed. */
export function viewOf(trial: TrialView, stored: Reading): ReadingView {
  const { panel, fit } = readOf(stored);
  const reference = (id: string) =>
    panel.attributes.find((one) => one.id === id)?.means.find(({ mix }) => mix === 'reference')?.mean ?? null;
  const names = new Map(trial.brief.attributes.map(({ id, name }) => [id, name]));
  return {
    trial,
    stored,
    panel: panel.attributes,
    fit: fit.attributes,
    attributes: aimsOf(trial.brief, reference),
    mixes: weighedMixes(trial),
    tasters: new Set(panel.attributes.flatMap(({ assessors }) => assessors.map(({ assessor }) => assessor)))
      .size,
    nameOf: (id) => names.get(id) ?? id,
  };
}

/** All mixes of a trial that have been weighed, by name, shares as weighed. */
export function weighedMixes(trial: TrialView): WeighedMix[] {
  const mixes = new Map<string, WeighedMix>();
  for (const round of trial.roundViews)
    for (const { mix, weighed, planned } of round.mixes) {
      const pours = round.state === 'read' || round.sittings.length > 0 ? 1 : 0;
      const known = mixes.get(mix);
      if (known) known.pours += pours;
      else if (weighed !== null)
        mixes.set(mix, { mix, shares: sharesOf(trial, weighed), settings: planned.settings, pours });
    }
  return [...mixes.values()];
}

/** Grams as shares of their sum, in the order of the brief; `pepper@5` holds grams of a 5 % stock. */
export function sharesOf(trial: TrialView, grams: Record<string, number>): number[] {
  const masses = trial.brief.components.map(({ id }) =>
    Object.entries(grams).reduce((sum, [key, value]) => {
      const [component, strength] = key.split('@');
      if (component !== id) return sum;
      return sum + value * (strength === undefined ? 1 : Number(strength) / 100);
    }, 0),
  );
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  return masses.map((mass) => (total > 0 ? mass / total : 0));
}
