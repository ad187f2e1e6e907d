import type { ScoreDraws } from '../model/posterior-types.ts';
import type { Attribute } from '../panel/observations.ts';
import { aimedAt, scaleLength } from './target-miss.ts';

/**
 * The highest chance that this panel could show with what it has tasted so far, even if the best ratio met every
 * target exactly: the share of draws in which every aimed attribute lies within tolerance of its own mean, since
 * only the spread of the draws is then left. A range is met from its middle; what is to be most or least is left
 * out; a poured reference adds its own uncertainty.
 *
 * @param point the ratio that would be made
 */
export function highestChance(attributes: readonly Attribute[], draws: ScoreDraws, point: number): number {
  const aimed = aimedAt(attributes).filter(({ target }) => target.kind !== 'most' && target.kind !== 'least');
  const rooms = aimed.map(({ attribute, place, target }) => {
    const values = Float64Array.from({ length: draws.count }, (_, s) => {
      const score = draws.scores[place]![s * draws.points + point]!;
      return target.kind === 'reference' ? score - (draws.reference[place]?.[s] ?? 0) : score;
    });
    const mean = values.reduce((a, b) => a + b, 0) / draws.count;
    const half = target.kind === 'range' ? (target.high - target.low) / 2 : 0;
    const room = Math.min(half + attribute.tolerance, scaleLength(attribute));
    return values.map((value) => (Math.abs(value - mean) <= room ? 1 : 0));
  });
  let met = 0;
  for (let s = 0; s < draws.count; s++) if (rooms.every((within) => within[s] === 1)) met++;
  return met / draws.count;
}
