import { createRandom } from '../../../engine/numeric/random.ts';
import type { BlendSpace } from '../../../engine/region/blend-space.ts';
import type { AimedAttribute } from '../../../web/charts/aims.ts';
import { curvesChart } from '../../../web/charts/curves-chart.ts';
import { differencesChart } from '../../../web/charts/differences-chart.ts';
import { effectsChart } from '../../../web/charts/effects-chart.ts';
import { influenceChart } from '../../../web/charts/influence-chart.ts';
import { knowledgeChart } from '../../../web/charts/knowledge-chart.ts';
import { mapChart } from '../../../web/charts/map-chart.ts';
import { missesChart } from '../../../web/charts/misses-chart.ts';
import { profileChart } from '../../../web/charts/profile-chart.ts';
import { reachChart } from '../../../web/charts/reach-chart.ts';
import { roundsChart } from '../../../web/charts/rounds-chart.ts';
import { spentChart } from '../../../web/charts/spent-chart.ts';
import type { ChartFrame, Spec } from '../../../web/charts/theme.ts';
import { meshPolygon } from '../../../web/charts/triangle/mesh.ts';
import { regionChart } from '../../../web/charts/triangle/region-chart.ts';
import { sliceRegion } from '../../../web/charts/triangle/slice.ts';
import { type TriangleData, triangleChart } from '../../../web/charts/triangle/triangle-chart.ts';

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

const MIXES = ['m1', 'm2', '=1+1', 'constructor'];

/** How much a chart is given: nothing, one of each, the usual, or forty mixes and twelve questions with names as long
 * as they may be. */
export const AMOUNTS = ['usual', 'nothing', 'one', 'forty'] as const;
type Amount = (typeof AMOUNTS)[number];

const LONG = 'A name as long as a brief allows, eighty signs of it, so that nothing may be cut unsaid';

function mixesOf(amount: Amount): string[] {
  if (amount === 'nothing') return [];
  if (amount === 'one') return ['m1'];
  if (amount === 'usual') return MIXES;
  return Array.from({ length: 40 }, (_, i) => `${i + 1} ${LONG}`.slice(0, 80));
}

function attributesOf(amount: Amount): AimedAttribute[] {
  if (amount === 'nothing') return [];
  if (amount === 'one') return ATTRIBUTES.slice(0, 1);
  if (amount === 'usual') return [...ATTRIBUTES];
  const twelve = [...ATTRIBUTES, ...ATTRIBUTES, ...ATTRIBUTES];
  return twelve.map((one, k) => ({ ...one, id: k < ATTRIBUTES.length ? one.id : `q${k}`, name: LONG }));
}

function componentsOf(amount: Amount): string[] {
  if (amount === 'nothing') return [];
  return amount === 'one' ? ['peel'] : ['peel', 'pink', LONG.slice(0, 40)];
}

/** Scores of every mix on every attribute; one mix without an interval. */
function pointsOf(amount: Amount) {
  const random = createRandom(3);
  return mixesOf(amount).flatMap((mix, m) =>
    attributesOf(amount).map(({ id, scale }) => {
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

function triangleOf(amount: Amount, attribute?: AimedAttribute): TriangleData {
  const data = triangleData(attribute);
  const usual = data.mixes;
  const random = createRandom(4);
  const mixes = mixesOf(amount).map((mix, i) => {
    const by = 0.05 * random.uniform();
    return { ...usual[i % 2]!, mix, shares: [0.4 - by, 0.3 + by, 0.2] as const };
  });
  return { ...data, mixes };
}

interface Case {
  data: unknown;
  draw: (frame: ChartFrame) => Spec;
}

function drawn<D>(data: D, chart: (data: D, frame: ChartFrame) => Spec): Case {
  return { data, draw: (frame) => chart(data, frame) };
}

/** Every chart of the room, given any amount of data. */
export const CHARTS: Record<string, (amount: Amount) => Case> = {
  'profile as tasted': (amount) => drawn({ ...profileOf(amount), kind: 'tasted' as const }, profileChart),
  'profile as predicted': (amount) =>
    drawn({ ...profileOf(amount), kind: 'predicted' as const }, profileChart),
  'what differs': (amount) => drawn(differencesOf(amount), differencesChart),
  'nothing differs': (amount) => drawn({ ...differencesOf(amount), groups: [] }, differencesChart),
  effects: (amount) =>
    drawn(
      {
        title: 'Tilt',
        components: componentsOf(amount).map((id) => ({ id, name: id })),
        attributes: attributesOf(amount),
        cells: componentsOf(amount).flatMap((component, c) =>
          attributesOf(amount).map(({ id }, i) => {
            const change = 10 * i - 8 * c;
            const tells = c === 0 && i !== 1;
            return { component, attribute: id, change, low: change - 4, high: change + 4, tells };
          }),
        ),
      },
      effectsChart,
    ),
  curves: (amount) =>
    drawn(
      {
        title: 'More peel',
        component: 'peel',
        attributes: attributesOf(amount),
        points: attributesOf(amount).flatMap(({ id, scale }) =>
          (amount === 'one' ? [20] : [20, 30, 40]).map((parts) => {
            const mean = scale[0] + (parts / 100) * (scale[1] - scale[0]);
            return { attribute: id, parts, mean, low: mean - 1, high: mean + 1 };
          }),
        ),
      },
      curvesChart,
    ),
  map: (amount) =>
    drawn(
      {
        title: 'Map',
        mixes: mixesOf(amount).map((mix, i) => ({
          mix,
          x: Math.cos(i),
          y: Math.sin(i),
          outline: i === 1 ? [] : around(Math.cos(i), Math.sin(i)),
        })),
        attributes: attributesOf(amount).map(({ name }, i) => ({ name, x: 0.5 * Math.cos(i), y: 0.4 })),
        explained: [0.61, 0.2] as const,
      },
      mapChart,
    ),
  misses: (amount) =>
    drawn(
      {
        title: 'Tasted and expected',
        attributes: attributesOf(amount),
        points: pointsOf(amount).map(({ mean, ...point }) => ({
          ...point,
          tasted: mean,
          expected: mean + 1,
        })),
      },
      missesChart,
    ),
  influence: (amount) =>
    drawn(
      {
        title: 'What rests on which mix',
        terms: 3,
        rows: mixesOf(amount).map((mix, i) => ({
          mix,
          ...(i === 2
            ? { moves: null, shift: null, leverage: 1, distance: null }
            : { moves: 4 - i, shift: 1.4 - 0.3 * i, leverage: 0.7 - 0.01 * i, distance: 1 / (i + 1) }),
        })),
      },
      influenceChart,
    ),
  reach: (amount) =>
    drawn(
      {
        title: 'How far the mixes reach',
        components: componentsOf(amount).map((id) => ({ id, low: 10, high: 40 })),
        mixes: mixesOf(amount).map((mix, i) => ({
          mix,
          parts: Object.fromEntries(componentsOf(amount).map((id) => [id, 10 + (i % 30)])),
          planned: i % 2 === 0,
        })),
      },
      reachChart,
    ),
  'distance by round': (amount) =>
    drawn(
      {
        title: 'Distance',
        points: mixesOf(amount).map((mix, i) => ({
          mix,
          round: 1 + Math.floor(i / 2),
          distance: 12 - (i % 9),
          low: Math.max(0, 6 - i),
          high: 20,
          nearest: i % 2 === 1,
        })),
      },
      roundsChart,
    ),
  'what rounds took': (amount) => drawn(spentOf(amount, 5.2), spentChart),
  'what rounds took, without prices': (amount) => drawn(spentOf(amount, null), spentChart),
  knowledge: (amount) =>
    drawn(
      {
        title: 'Where more mixes stop paying',
        points: sizesOf(amount).map((mixes) => ({ mixes, notices: 60 / mixes })),
        named: [
          { mixes: 7, name: amount === 'forty' ? LONG : 'Two evenings' },
          { mixes: 8, name: 'not on the curve' },
        ],
        own: amount === 'usual' ? { mixes: 9, notices: 7 } : null,
      },
      knowledgeChart,
    ),
  'triangle with a target': (amount) => drawn(triangleOf(amount), triangleChart),
  'triangle without a target': (amount) =>
    drawn({ ...triangleOf(amount, ATTRIBUTES[3]), veilAbove: 1e6 }, triangleChart),
  'region with how sure a plan makes it': (amount) => {
    const { frame, outline, mesh, means, names, mixes } = triangleOf(amount);
    const states = ['planned', 'held', 'made'] as const;
    return drawn(
      {
        ...{ title: 'What may be mixed', names, frame, outline, mesh, variances: means },
        mixes: mixes.map(({ mix, shares, onSlice }, k) => ({ mix, shares, onSlice, state: states[k % 3]! })),
      },
      regionChart,
    );
  },
};

function profileOf(amount: Amount) {
  return {
    title: 'Scores',
    attributes: attributesOf(amount),
    mixes: mixesOf(amount),
    points: pointsOf(amount),
  };
}

function differencesOf(amount: Amount) {
  const mixes = mixesOf(amount);
  return {
    title: 'Mixes',
    attribute: ATTRIBUTES[0]!,
    means: pointsOf(amount).filter(({ attribute }) => attribute === 'bitter'),
    groups: mixes.length < 4 ? [mixes] : [mixes.slice(0, 2), mixes.slice(1, 4)],
  };
}

function spentOf(amount: Amount, money: number | null) {
  const rounds = amount === 'nothing' ? [] : [{ round: 1, grams: 36.04, money, cups: 96 }];
  const next = amount === 'usual' ? [{ round: 2, grams: 8, money: money === null ? null : 0, cups: 0 }] : [];
  const twenty = Array.from({ length: 19 }, (_, i) => ({ round: i + 2, grams: 40 + i, money, cups: 600 }));
  return { title: 'Spent', rounds: [...rounds, ...next, ...(amount === 'forty' ? twenty : [])] };
}

function sizesOf(amount: Amount): number[] {
  if (amount === 'nothing') return [];
  if (amount === 'one') return [7];
  return amount === 'usual' ? [5, 7, 9, 14] : Array.from({ length: 40 }, (_, i) => i + 5);
}

function around(x: number, y: number): (readonly [number, number])[] {
  return Array.from({ length: 9 }, (_, i) => {
    const turn = (i / 8) * 2 * Math.PI;
    return [x + 0.2 * Math.cos(turn), y + 0.1 * Math.sin(turn)] as const;
  });
}
