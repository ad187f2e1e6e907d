import type { Attribute } from '../../engine/panel/observations.ts';
import type { BlendSpace } from '../../engine/region/blend-space.ts';
import type { NamedStream } from '../../trials/demo/named-stream.ts';
import { chord, halfSpacesOf } from './hit-and-run.ts';

/** What the aimed attributes are compared with. */
export interface Aim {
  attributes: readonly Attribute[];
  /** Scores of the reference, for targets of that kind. */
  reference: readonly number[] | null;
  /** By attribute: the most and the least it reaches over the region, for targets of that kind. */
  reach: readonly { least: number; most: number }[];
}

interface Point {
  shares: number[];
  settings: number[];
}

/** Root of the weighted mean over aimed attributes of squared misses in percent of the scale. */
export function trueDistance(aim: Aim, scores: readonly number[]): number {
  let squares = 0;
  let weights = 0;
  aim.attributes.forEach((attribute, k) => {
    if (attribute.target === null) return;
    const length = attribute.scale ? attribute.scale[1] - attribute.scale[0] : 100;
    squares += attribute.weight * ((100 * trueMiss(aim, k, scores[k]!)) / length) ** 2;
    weights += attribute.weight;
  });
  return Math.sqrt(squares / weights);
}

/** Whether every aimed attribute lies within its tolerance. */
export function trulyMatches(aim: Aim, scores: readonly number[]): boolean {
  return aim.attributes.every(
    ({ target, tolerance }, k) => target === null || Math.abs(trueMiss(aim, k, scores[k]!)) <= tolerance,
  );
}

function trueMiss(aim: Aim, k: number, score: number): number {
  const target = aim.attributes[k]!.target!;
  switch (target.kind) {
    case 'value':
      return score - target.value;
    case 'range':
      return score - Math.min(target.high, Math.max(target.low, score));
    case 'most':
      return score - aim.reach[k]!.most;
    case 'least':
      return score - aim.reach[k]!.least;
    case 'reference':
      return score - aim.reference![k]!;
  }
}

/**
 * The least of a function over a space: the best of given points, then random steps along lines inside the region
 * whose length shrinks where they fail. For benches only, where truth costs nothing.
 */
export function minimise(
  space: BlendSpace,
  value: (point: Point) => number,
  points: readonly Point[],
  stream: NamedStream,
): { point: Point; value: number } {
  const ranked = points
    .map((point) => ({ point, value: value(point) }))
    .sort((a, b) => a.value - b.value)
    .slice(0, 4);
  const refined = ranked.map((start) => descend(space, value, start, stream));
  return refined.sort((a, b) => a.value - b.value)[0]!;
}

function descend(
  space: BlendSpace,
  value: (point: Point) => number,
  start: { point: Point; value: number },
  stream: NamedStream,
): { point: Point; value: number } {
  const halves = halfSpacesOf(space);
  let best = start;
  let reach = 0.3;
  for (let tries = 0; tries < 600 && reach > 1e-5; tries++) {
    const point = neighbour(space, halves, best.point, reach, stream);
    const found = value(point);
    if (found < best.value) best = { point, value: found };
    reach *= found < best.value ? 1.6 : 0.97;
    if (best.point === point) reach = Math.min(0.3, reach * 1.6);
  }
  return best;
}

function neighbour(
  space: BlendSpace,
  halves: ReturnType<typeof halfSpacesOf>,
  from: Point,
  reach: number,
  stream: NamedStream,
): Point {
  // directions scaled by each component's range, so that traces move as far in their own terms
  const raw = space.components.map(({ low, high }) => (high - low) * stream.normal(1));
  const widths = space.components.map(({ low, high }) => high - low);
  const total = widths.reduce((a, b) => a + b, 0);
  const excess = raw.reduce((a, b) => a + b, 0);
  const direction = raw.map((r, i) => r - (excess * widths[i]!) / total);
  const [, forth] = chord(halves, from.shares, direction);
  const by = Math.min(forth, reach * Math.abs(stream.normal(1)));
  return {
    shares: from.shares.map((x, i) => x + by * direction[i]!),
    settings: space.settings.map(({ low, high }, s) =>
      Math.min(high, Math.max(low, from.settings[s]! + reach * (high - low) * stream.normal(1))),
    ),
  };
}
