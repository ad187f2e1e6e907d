import { createRandom } from '../../../engine/numeric/random.ts';
import type { BlendSpace } from '../../../engine/region/blend-space.ts';
import type { AimedAttribute } from '../../../web/charts/aims.ts';
import { meshPolygon } from '../../../web/charts/triangle/mesh.ts';
import { sliceRegion } from '../../../web/charts/triangle/slice.ts';
import type { TriangleData } from '../../../web/charts/triangle/triangle-chart.ts';

/** Invented attributes of each kind of aim; a name with signs that field paths would trip over. */
export const ATTRIBUTES: readonly AimedAttribute[] = [
  {
    id: 'bitter',
    name: 'Bitter',
    scale: [0, 100],
    aim: { kind: 'band', from: 62, to: 62, tolerance: 8 },
    weight: 1,
  },
  {
    id: 'fresh',
    name: 'Fresh [peel] e.g. "zest"',
    scale: [0, 100],
    aim: { kind: 'band', from: 40, to: 60, tolerance: 8 },
    weight: 1,
  },
  { id: 'liking', name: 'Overall liking', scale: [1, 9], aim: { kind: 'toward', end: 'most' }, weight: 1 },
  { id: 'body', name: 'Body', scale: [0, 10], aim: null, weight: 1 },
];

export const MIXES = ['m1', 'm2', '=1+1', 'constructor'];

/** Scores of every mix on every attribute; one mix without an interval. */
export function points() {
  const random = createRandom(3);
  return MIXES.flatMap((mix, m) =>
    ATTRIBUTES.map(({ id, scale }) => {
      const mean = scale[0] + (scale[1] - scale[0]) * random.uniform();
      return { mix, attribute: id, mean, low: m === 3 ? null : mean - 1, high: m === 3 ? null : mean + 1 };
    }),
  );
}

/** Four components, one bound: the demo's kind of region. */
export const SPACE: BlendSpace = {
  components: [
    { id: 'peel', low: 0.2, high: 0.5 },
    { id: 'noot', low: 0.1, high: 0.4 },
    { id: 'thiol', low: 0.05, high: 0.18 },
    { id: 'pink', low: 0.05, high: 0.4 },
  ],
  bounds: [{ of: { peel: 1, pink: 0.2 }, most: 0.53 }],
  settings: [],
};

export const THROUGH = [0.4, 0.3, 0.1, 0.2];

/** A triangle over peel, noot and pink whose surface is a plane, so that its contours are known. */
export function triangleData(attribute: AimedAttribute = ATTRIBUTES[0]!): TriangleData {
  const three = [0, 1, 3] as const;
  const { frame, outline } = sliceRegion(SPACE, three, THROUGH);
  const mesh = meshPolygon(outline, 6);
  return {
    title: 'Bitter over peel, noot and pink',
    attribute,
    names: ['peel', 'noot', 'pink'],
    frame,
    outline,
    mesh,
    means: mesh.points.map(([x, y]) => 50 + 30 * x + 10 * y),
    halfWidths: mesh.points.map(([x]) => 5 + 30 * x),
    veilAbove: 20,
    mixes: [
      { mix: 'm1', shares: [0.4, 0.3, 0.2], pours: 2, onSlice: true },
      { mix: 'm2', shares: [0.35, 0.3, 0.25], pours: 0, onSlice: false },
    ],
  };
}

/** Two rounds, the second of one mix. */
export const ROUNDS = {
  title: 'Distance',
  points: [
    { mix: 'm1', round: 1, distance: 12, low: 6, high: 18, nearest: true },
    { mix: '=1+1', round: 1, distance: 20, low: 14, high: 27, nearest: false },
    { mix: 'm3', round: 2, distance: 5, low: 0, high: 11, nearest: true },
  ],
};

/** What they took. */
export const SPENT = {
  title: 'Spent',
  rounds: [
    { round: 1, grams: 36.04, money: 5.2, cups: 96 },
    { round: 2, grams: 8, money: 0, cups: 0 },
  ],
};
