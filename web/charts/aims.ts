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
export function aimInWords({ aim }: AimedAttribute): string {
  if (aim === null) return 'not aimed at';
  if (aim.kind === 'toward') return aim.end === 'most' ? 'as high as can be' : 'as low as can be';
  const target = aim.from === aim.to ? round(aim.from) : `${round(aim.from)} to ${round(aim.to)}`;
  return `${target}, within ${round(aim.tolerance)}`;
}

function round(value: number): string {
  return String(Number(value.toFixed(1)));
}
