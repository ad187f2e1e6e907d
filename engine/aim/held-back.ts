import type { Attribute, Target } from '../panel/observations.ts';
import type { Names } from '../region/limits.ts';
import type { DistanceDraws } from './distance-draws.ts';
import { calledBy } from './judged.ts';

/** An attribute that keeps the best ratio from the target. */
export interface HeldBack {
  attribute: string;
  /** How far its mean lies off there, with sign, in scale units. */
  miss: number;
  /** Chance that some ratio of the region brings it within tolerance, the others left aside. */
  reachable: number;
  says: string;
}

/** Within tolerance in fewer draws than this at the best ratio: the attribute holds it back. */
const HELD = 0.6;
/** Reached by some ratio in fewer draws than this: no ratio reaches it. */
const NOWHERE = 0.1;

/**
 * Which aimed attributes keep a ratio from the target, the worst first, and what kind of material is missing: where
 * some ratio reaches an attribute by itself, the attributes are at odds, and a material that moves it alone would
 * help; where none does, nothing in the brief moves it far enough.
 */
export function heldBack(
  attributes: readonly Attribute[],
  draws: DistanceDraws,
  by: { point: number; names: Names },
): HeldBack[] {
  const { count, points, places, misses, weights } = draws;
  return places
    .flatMap((place, k) => {
      const attribute = attributes[place]!;
      const own = misses[k]!;
      let [within, anywhere, sum] = [0, 0, 0];
      for (let s = 0; s < count; s++) {
        const row = own.subarray(s * points, (s + 1) * points);
        sum += row[by.point]!;
        if (Math.abs(row[by.point]!) <= attribute.tolerance) within++;
        if (row.some((miss) => Math.abs(miss) <= attribute.tolerance)) anywhere++;
      }
      if (within >= HELD * count) return [];
      const miss = sum / count;
      const reachable = anywhere / count;
      const says = sentence(attribute, { miss, reachable, names: by.names });
      return [{ attribute: attribute.id, miss, reachable, says, worth: weights[k]! * miss ** 2 }];
    })
    .sort((a, b) => b.worth - a.worth)
    .map(({ worth: _, ...held }) => held);
}

function sentence(attribute: Attribute, by: { miss: number; reachable: number; names: Names }): string {
  const name = calledBy(by.names, attribute.id);
  const size = Math.abs(by.miss);
  const off = size < 1 ? size.toFixed(1) : size.toFixed(0);
  const goal = goalOf(attribute.target!);
  if (by.miss < 0)
    return by.reachable < NOWHERE
      ? `no ratio brings ${name} up to ${goal} (about ${off} short): a material that gives more ${name} is missing`
      : `${name} stays about ${off} short of ${goal} where the others are met: a material that gives ${name} and little else would help`;
  return by.reachable < NOWHERE
    ? `no ratio brings ${name} down to ${goal} (about ${off} too high): a material with less ${name}, or one that covers it, is missing`
    : `${name} stays about ${off} above ${goal} where the others are met: a material that covers ${name}, or gives the rest without it, would help`;
}

function goalOf(target: Target): string {
  switch (target.kind) {
    case 'value':
      return `its target of ${target.value}`;
    case 'range':
      return `its target of ${target.low} to ${target.high}`;
    case 'reference':
      return 'the reference';
    case 'most':
      return 'the most it reaches elsewhere';
    case 'least':
      return 'the least it reaches elsewhere';
  }
}
