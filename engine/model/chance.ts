import type { Attribute, Target } from '../panel/observations.ts';
import type { ScoreDraws } from './posterior-types.ts';

/** Chances of the first `wanted` points. */
export interface Chances {
  /** By attribute and point; null where the attribute is not aimed at or cannot be judged. */
  each: (Float64Array | null)[];
  /** That every aimed attribute is met at once, in the same draw; null where one of them cannot be judged. */
  joint: Float64Array | null;
}

/**
 * Shares of joint draws in which scores lie within tolerance. Each score is first cut off at the ends of its scale.
 * For `most` and `least` each draw is compared with its own best over the points after the wanted ones, which must
 * cover the region; for a range the miss is the distance to it; for `reference` the distance to the
 * reference's own score in the same draw.
 *
 * @param usable by attribute, whether its draws mean anything
 */
export function chancesOf(
  attributes: readonly Attribute[],
  draws: ScoreDraws,
  usable: readonly boolean[],
  wanted: number,
): Chances {
  const met = attributes.map((attribute, k) =>
    attribute.target && usable[k] && (attribute.target.kind !== 'reference' || draws.reference[k])
      ? metBy(attribute, attribute.target, { draws, k, wanted })
      : null,
  );
  const aimed = attributes.flatMap((attribute, k) => (attribute.target ? [met[k]!] : []));
  const shares = (hits: Uint8Array) => shareOfDraws(hits, draws.count, wanted);
  return {
    each: met.map((hits) => hits && shares(hits)),
    joint:
      aimed.length === 0 || aimed.some((hits) => hits === null)
        ? null
        : shares(aimed.reduce((all, hits) => all.map((hit, at) => hit & hits[at]!))),
  };
}

/** 1 where the score is within tolerance, by draw · wanted + point. */
function metBy(
  attribute: Attribute,
  target: Target,
  { draws, k, wanted }: { draws: ScoreDraws; k: number; wanted: number },
): Uint8Array {
  const hits = new Uint8Array(draws.count * wanted);
  for (let d = 0; d < draws.count; d++) {
    const scores = draws.scores[k]!.subarray(d * draws.points, (d + 1) * draws.points);
    const goal = goalOf(attribute, target, scores.subarray(wanted), draws.reference[k]?.[d] ?? 0);
    for (let i = 0; i < wanted; i++) {
      const score = onScale(attribute, scores[i]!);
      const miss = Math.max(goal.low - score, score - goal.high, 0);
      hits[d * wanted + i] = Number(miss <= attribute.tolerance);
    }
  }
  return hits;
}

/** Where a score misses by nothing. */
function goalOf(attribute: Attribute, target: Target, cover: Float64Array, reference: number) {
  switch (target.kind) {
    case 'value':
      return { low: target.value, high: target.value };
    case 'range':
      return { low: target.low, high: target.high };
    case 'reference': {
      const at = onScale(attribute, reference);
      return { low: at, high: at };
    }
    case 'most':
      return { low: onScale(attribute, most(cover)), high: Number.POSITIVE_INFINITY };
    case 'least':
      return { low: Number.NEGATIVE_INFINITY, high: onScale(attribute, least(cover)) };
  }
}

function most(scores: Float64Array): number {
  return scores.reduce((best, v) => Math.max(best, v), Number.NEGATIVE_INFINITY);
}

function least(scores: Float64Array): number {
  return scores.reduce((best, v) => Math.min(best, v), Number.POSITIVE_INFINITY);
}

/** A score cut off at the ends of its scale. */
export function onScale({ scale }: Attribute, score: number): number {
  return scale ? Math.min(scale[1], Math.max(scale[0], score)) : score;
}

function shareOfDraws(hits: Uint8Array, count: number, points: number): Float64Array {
  const out = new Float64Array(points);
  hits.forEach((hit, at) => {
    out[at % points]! += hit / count;
  });
  return out;
}

/** Whether some target is where each draw has its own best of the region, so that points all over it are needed. */
export function comparesWithRegion(attributes: readonly Attribute[]): boolean {
  return attributes.some(({ target }) => target?.kind === 'most' || target?.kind === 'least');
}

/** Only targets that are compared with the best of the region need points all over it. */
export function coverFor<T>(attributes: readonly Attribute[], cover: readonly T[]): readonly T[] {
  return comparesWithRegion(attributes) ? cover : [];
}
