import { EngineError } from '../errors.ts';
import type { AgeReading } from '../panel/age-at-tasting.ts';
import { modelledCups } from '../panel/cup-model.ts';
import type { Cups } from '../panel/cups.ts';
import { REFERENCE, type WeighedMix } from '../panel/observations.ts';
import { codeSetting } from '../region/blend-space.ts';
import type { FitInput } from './fit-types.ts';

/** A mix that was scored, with its settings coded to -1..1. */
export interface TastedMix {
  mix: string;
  blend: string;
  shares: readonly number[];
  settings: readonly number[];
  coded: number[];
}

/** The scored cups of one attribute with the ratios behind them; the reference has no ratios. */
export interface Tasted {
  cups: Cups;
  /** In the order of `cups.mixes`, without the reference. */
  mixes: TastedMix[];
  /** Place of the reference among `cups.mixes`; -1 where it was not scored. */
  reference: number;
  /** Why the order of serving could not be taken out though it was asked for. */
  unadjusted: string | null;
  /** What may be said of the bottles' age at tasting; null where none was recorded. */
  age: AgeReading['status'] | null;
}

/**
 * Joins scores to the mixes behind them.
 * @throws EngineError where a cup's mix is neither weighed nor the reference
 */
export function tastedOf(input: FitInput, attribute: number): Tasted {
  const setAside = new Set(input.assessorsSetAside ?? []);
  const { cups, reason, age } = modelledCups(input.servings, attribute, { ...input, setAside });
  const weighed = new Map(input.mixes.map((mix) => [mix.mix, mix]));
  const reference = cups.mixes.indexOf(REFERENCE);
  const mixes = cups.mixes
    .filter((mix) => mix !== REFERENCE)
    .map((mix) => {
      const found = weighed.get(mix);
      if (!found)
        throw new EngineError('bad-argument', 'servings.mix', mix, 'a weighed mix or the reference');
      return withCoded(input, found);
    });
  return { cups, mixes, reference, unadjusted: reason, age: age?.status ?? null };
}

/** Settings that all tasted mixes share, though the space would let them vary. */
export function stillSettings(input: FitInput, mixes: readonly TastedMix[]): boolean[] {
  return input.space.settings.map(
    (setting, s) =>
      setting.high > setting.low &&
      mixes.every(({ coded }) => Math.abs(coded[s]! - mixes[0]!.coded[s]!) < 1e-9),
  );
}

function withCoded({ space }: FitInput, { mix, blend, shares, settings }: WeighedMix): TastedMix {
  const coded = space.settings.map((setting, s) => codeSetting(setting, settings[s]!));
  return { mix, blend, shares, settings, coded };
}
