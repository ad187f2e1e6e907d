/** What an attribute is aimed at, in points of its scale. Null = scored but not aimed at, or not known yet. */
export type Aim =
  | { kind: 'band'; from: number; to: number; tolerance: number }
  | { kind: 'toward'; end: 'most' | 'least' }
  | null;

/** One scale of the ballot as charts need it. */
export interface AimedAttribute {
  id: string;
  name: string;
  scale: readonly [number, number];
  aim: Aim;
  /** How much a miss counts beside the others. */
  weight: number;
}

/** The scores that count as a match: the target with its tolerance, cut to the scale; null where there is no band. */
export function matchingBand({ aim, scale }: AimedAttribute): [number, number] | null {
  if (aim?.kind !== 'band') return null;
  return [Math.max(scale[0], aim.from - aim.tolerance), Math.min(scale[1], aim.to + aim.tolerance)];
}

/** How far a score lies outside the target, in points; 0 inside, null where there is no target to miss. */
export function missOf({ aim }: AimedAttribute, score: number): number | null {
  if (aim?.kind !== 'band') return null;
  return Math.max(aim.from - score, score - aim.to, 0);
}

/** The aim in words: `54, within 8`. */
export function aimInWords({ aim, scale }: AimedAttribute): string {
  const round = (value: number) => String(Number(value.toFixed(Math.max(1, scoreDecimals(scale)))));
  if (aim === null) return 'not aimed at';
  if (aim.kind === 'toward') return aim.end === 'most' ? 'as high as can be' : 'as low as can be';
  const target = aim.from === aim.to ? round(aim.from) : `${round(aim.from)} to ${round(aim.to)}`;
  return `${target}, within ${round(aim.tolerance)}`;
}

/** Decimals of a score: none on long scales, one on short ones, as many as tell a fiftieth on shorter still. */
export function scoreDecimals([low, high]: readonly [number, number]): number {
  const length = high - low;
  return length >= 50 ? 0 : 1 + Math.max(0, Math.ceil(Math.log10(2 / length)));
}

/** How a tooltip writes a score, whatever its scale: three figures. */
export const SCORE_FORMAT = '.3~r';

/**
 * Distance to the target: the root of the weighted mean of squared misses, each in percent of its scale. Attributes
 * without a band to miss, or without a score, do not count; null where none does.
 */
export function distanceOf(
  attributes: readonly AimedAttribute[],
  scoreOf: (attribute: string) => number | null,
): number | null {
  let sum = 0;
  let weights = 0;
  for (const attribute of attributes) {
    const score = scoreOf(attribute.id);
    const miss = score === null ? null : missOf(attribute, score);
    if (miss === null) continue;
    sum += attribute.weight * ((100 * miss) / (attribute.scale[1] - attribute.scale[0])) ** 2;
    weights += attribute.weight;
  }
  return weights > 0 ? Math.sqrt(sum / weights) : null;
}
