import type { Reaching } from './reaching.ts';

/** Above this a drink counts as alcoholic here: Regulation (EU) 1169/2011, Articles 16(4) and 28 (1.2 % vol). */
export const ALCOHOLIC_FROM_PERCENT_VOL = 1.2;

/** A legal limit, as data. */
export interface Limit {
  substance: string;
  cas: string | null;
  /** In its own unit; null where the rule has no figure. */
  limit: number | null;
  unit: 'mg/kg' | 'mg/L' | '% vol';
  /**
   * `maximum`: no more than this in the drink; `banned`: none at all; `banned as such`: none added as the pure
   * substance; `declared`: above this the label must say something; `told`: a rule without a figure to judge.
   */
  kind: 'maximum' | 'banned' | 'banned as such' | 'declared' | 'told';
  /** Drinks it speaks of. */
  drinks: 'any' | 'alcoholic' | 'non-alcoholic';
  /** It speaks only of some such drinks (mint, cola …): whether this is one is for the reader to say. */
  only: string | null;
  jurisdiction: string;
  source: string;
  verified: boolean;
  /** Entered by the maker, not found in a list. */
  own?: true | undefined;
  note: string;
}

export interface DrinkState {
  percentVol: number | null;
  /** g/mL at 20 °C. */
  density: number;
}

/** A limit beside what was found. `exceeded` is null where the rule cannot be judged by figures. */
export interface JudgedLimit extends Omit<Limit, 'substance' | 'cas'> {
  exceeded: boolean | null;
}

/** Every limit that speaks of this substance in such a drink. No legal verdict: the source, and what it says. */
export function judgeLimits(reaching: Reaching, drink: DrinkState, limits: readonly Limit[]): JudgedLimit[] {
  return limits
    .filter((limit) => speaksOf(limit, reaching) && appliesTo(limit, drink))
    .map((limit) => {
      const { substance: _, cas: __, ...rest } = limit;
      return { ...rest, exceeded: isExceeded(limit, reaching, drink) };
    });
}

/** The same CAS number, or, where one has none, the same name (capitals and what stands in brackets aside). */
export function speaksOf(
  limit: Pick<Limit, 'substance' | 'cas'>,
  { name, cas }: Pick<Reaching, 'name' | 'cas'>,
): boolean {
  if (limit.cas !== null && cas !== null) return limit.cas === cas;
  return plain(limit.substance) === plain(name);
}

function plain(name: string): string {
  return name
    .toLowerCase()
    .replace(/\s*\(.*\)\s*/g, '')
    .trim();
}

function appliesTo({ drinks }: Limit, { percentVol }: DrinkState): boolean {
  if (drinks === 'any' || percentVol === null) return true;
  return percentVol > ALCOHOLIC_FROM_PERCENT_VOL === (drinks === 'alcoholic');
}

function isExceeded(limit: Limit, { mgPerKg, asSuch }: Reaching, drink: DrinkState): boolean | null {
  if (limit.kind === 'told') return null;
  if (limit.kind === 'banned as such') return asSuch && limit.only !== null ? null : asSuch;
  if (limit.kind === 'banned') return mgPerKg !== 0;
  if (limit.unit === '% vol')
    return limit.limit === null || drink.percentVol === null ? null : drink.percentVol > limit.limit;
  if (limit.limit === null || mgPerKg === null) return null;
  const found = limit.unit === 'mg/L' ? mgPerKg * drink.density : mgPerKg;
  return found > limit.limit;
}
