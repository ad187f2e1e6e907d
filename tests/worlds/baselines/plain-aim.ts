import { type Evidence, plainMeans } from './baseline.ts';

/** What plain means are compared with: for each aimed attribute its index, weight and the range that is no miss. */
export interface PlainTarget {
  attribute: number;
  weight: number;
  low: number;
  high: number;
}

/**
 * The targets as ranges of scores. A reference becomes its own plain mean; `most` and `least` become the ends of
 * the scale, since plain means know no region.
 */
export function plainTargets(evidence: Evidence): PlainTarget[] {
  const reference = plainMeans(evidence, 'reference');
  return evidence.world.attributes.flatMap(({ target, weight, scale }, attribute) => {
    const at = (low: number, high = low) => [{ attribute, weight, low, high }];
    if (target === null) return [];
    if (target.kind === 'value') return at(target.value);
    if (target.kind === 'range') return at(target.low, target.high);
    if (target.kind === 'most') return at(scale![1]);
    if (target.kind === 'least') return at(scale![0]);
    return reference[attribute] === null ? [] : at(reference[attribute]!);
  });
}

/** Weighted mean square miss; `scores` by attribute, missing ones passed over. */
export function meanSquare(targets: readonly PlainTarget[], scores: readonly (number | null)[]): number {
  let squares = 0;
  let weights = 0;
  for (const { attribute, weight, low, high } of targets) {
    const score = scores[attribute];
    if (score == null) continue;
    squares += weight * (score - Math.min(high, Math.max(low, score))) ** 2;
    weights += weight;
  }
  return weights > 0 ? squares / weights : Number.POSITIVE_INFINITY;
}
