import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CurvesData } from '../../../web/charts/curves-chart.ts';
import type { DifferencesData } from '../../../web/charts/differences-chart.ts';
import type { EffectsData } from '../../../web/charts/effects-chart.ts';
import type { InfluenceData } from '../../../web/charts/influence-chart.ts';
import type { KnowledgeData } from '../../../web/charts/knowledge-chart.ts';
import type { MapData } from '../../../web/charts/map-chart.ts';
import type { MissesData } from '../../../web/charts/misses-chart.ts';
import type { ProfileData } from '../../../web/charts/profile-chart.ts';
import type { ReachData } from '../../../web/charts/reach-chart.ts';
import type { RoundsData } from '../../../web/charts/rounds-chart.ts';
import type { SpentData } from '../../../web/charts/spent-chart.ts';
import type { RegionData } from '../../../web/charts/triangle/region-chart.ts';
import type { TriangleData } from '../../../web/charts/triangle/triangle-chart.ts';
import * as says from '../../../web/workbench/parts/chart-words.ts';
import { AMOUNTS, ATTRIBUTES, CHARTS, triangleData } from '../charts/chart-cases.ts';

/**
 * Each file of `web/charts` that draws a chart: what its sentence says of known data, and of the same data with one
 * figure changed.
 */
interface Said {
  cases: readonly string[];
  says: (data: never) => string;
  known: unknown;
  sentence: string;
  changed: unknown;
  other: string;
}

const [bitter, fresh] = [ATTRIBUTES[0]!, ATTRIBUTES[1]!];
const point = (mix: string, attribute: string, mean: number) => ({
  ...{ mix, attribute, mean },
  low: mean - 1,
  high: mean + 1,
});

const PROFILE: ProfileData = {
  ...{ title: 'Scores', kind: 'tasted', attributes: [bitter, fresh], mixes: ['m1', 'm2', 'reference'] },
  points: [
    ...[point('m1', 'bitter', 62), point('m1', 'fresh', 30)],
    ...[point('m2', 'bitter', 65), point('m2', 'fresh', 50), point('reference', 'bitter', 62)],
  ],
};
const DIFFERENCES: DifferencesData = {
  ...{ title: 'Mixes', attribute: bitter, groups: [] },
  means: [
    { mix: 'm1', mean: 31.2, low: 30, high: 32 },
    { mix: 'm2', mean: 72.4, low: 70, high: 74 },
  ],
};
const EFFECTS: EffectsData = {
  ...{ title: 'Tilt', components: [{ id: 'peel', name: 'Peel' }], attributes: [bitter, fresh] },
  cells: [
    { component: 'peel', attribute: 'bitter', change: -31, low: -35, high: -27, tells: true },
    { component: 'peel', attribute: 'fresh', change: 44, low: -5, high: 93, tells: false },
  ],
};
const CURVES: CurvesData = {
  ...{ title: 'More peel', component: 'peel', attributes: [bitter, fresh] },
  points: [
    { attribute: 'bitter', parts: 20, mean: 30, low: 28, high: 32 },
    { attribute: 'bitter', parts: 50, mean: 71, low: 68, high: 74 },
    { attribute: 'fresh', parts: 20, mean: 40, low: 38, high: 42 },
    { attribute: 'fresh', parts: 50, mean: 45, low: 43, high: 47 },
  ],
};
const MAP: MapData = {
  ...{ title: 'Map', attributes: [], explained: [0.61, 0.2] },
  mixes: [
    { mix: 'm1', x: 0, y: 0, outline: [] },
    { mix: 'm2', x: 0.1, y: 0, outline: [] },
    { mix: 'm3', x: 2, y: 1, outline: [] },
  ],
};
const MISSES: MissesData = {
  ...{ title: 'Tasted and expected', attributes: [bitter, fresh] },
  points: [
    { mix: 'm1', attribute: 'bitter', expected: 50, tasted: 44.5, low: null, high: null },
    { mix: 'm2', attribute: 'fresh', expected: 50, tasted: 52, low: null, high: null },
  ],
};
const INFLUENCE: InfluenceData = {
  ...{ title: 'Rests', terms: 3 },
  rows: [
    { mix: 'm1', moves: 1, shift: 0.4, leverage: 0.2, distance: 0.05 },
    { mix: 'm2', moves: -4.2, shift: -2.61, leverage: 0.71, distance: 1.3 },
    { mix: 'm3', moves: null, shift: null, leverage: 1, distance: null },
  ],
};
const REACH: ReachData = {
  title: 'Reach',
  components: [
    { id: 'peel', low: 10, high: 40 },
    { id: 'pink', low: 0, high: 50 },
  ],
  mixes: [
    { mix: 'm1', planned: true, parts: { peel: 10, pink: 20 } },
    { mix: 'm2', planned: true, parts: { peel: 38, pink: 30 } },
  ],
};
const ROUNDS: RoundsData = {
  title: 'Distance',
  points: [
    { mix: 'm1', round: 1, distance: 12.3, low: 9, high: 16, nearest: false },
    { mix: 'm2', round: 1, distance: 8.14, low: 5.5, high: 11, nearest: true },
  ],
};
const SPENT: SpentData = {
  ...{ title: 'Spent', currency: 'EUR' },
  rounds: [
    { round: 1, grams: 36.04, money: 5.2, cups: 96 },
    { round: 2, grams: 8, money: 1, cups: 24 },
  ],
};
const KNOWLEDGE: KnowledgeData = {
  ...{ title: 'Knowledge', named: [], own: { mixes: 9, notices: 7.25 } },
  points: [
    { mixes: 5, notices: 12 },
    { mixes: 14, notices: 6.1 },
  ],
};
const TRIANGLE: TriangleData = triangleData();
const top = TRIANGLE.means.indexOf(Math.max(...TRIANGLE.means));
const REGION: Pick<RegionData, 'mixes' | 'variances'> = {
  variances: [0.25, 1, 4],
  mixes: [
    { mix: 'm1', shares: [0.4, 0.3, 0.3], onSlice: true, state: 'made' },
    { mix: 'm2', shares: [0.4, 0.3, 0.3], onSlice: true, state: 'planned' },
  ],
};

const FILES: Record<string, Said> = {
  'profile-chart.ts': {
    cases: ['profile as tasted', 'profile as predicted'],
    says: says.profileSays,
    known: PROFILE,
    // misses of 0 and 10 points; of 3 and 0: √(100/2) = 7.1 and √(9/2) = 2.1
    sentence: 'Nearest to the target as tasted: m2 (2.1 points of 100 away) and m1 (7.1).',
    changed: { ...PROFILE, points: PROFILE.points.map((one) => ({ ...one, mean: one.mean - 10 })) },
    other: 'Nearest to the target as tasted: m2 (4.9 points of 100 away) and m1 (15.8).',
  },
  'differences-chart.ts': {
    cases: ['what differs', 'nothing differs'],
    says: says.differencesSays,
    known: DIFFERENCES,
    sentence: 'Strongest: m2 at 72; weakest: m1 at 31.',
    changed: { ...DIFFERENCES, means: [{ ...DIFFERENCES.means[0]!, mean: 90 }, DIFFERENCES.means[1]!] },
    other: 'Strongest: m1 at 90; weakest: m2 at 72.',
  },
  'effects-chart.ts': {
    cases: ['effects'],
    says: says.effectsSays,
    known: EFFECTS,
    sentence: 'Strongest: from least to most peel, Bitter moves by −31 % of its scale.',
    changed: { ...EFFECTS, cells: EFFECTS.cells.map((cell) => ({ ...cell, tells: true })) },
    other: 'Strongest: from least to most peel, Fresh [peel] e.g. "zest" moves by +44 % of its scale.',
  },
  'curves-chart.ts': {
    cases: ['curves'],
    says: says.curvesSays,
    known: CURVES,
    sentence: 'From 20.0 to 50.0 parts of a hundred of peel, Bitter moves most: from 30 to 71.',
    changed: { ...CURVES, points: CURVES.points.map((one) => ({ ...one, mean: one.mean / 2 })) },
    other: 'From 20.0 to 50.0 parts of a hundred of peel, Bitter moves most: from 15 to 36.',
  },
  'map-chart.ts': {
    cases: ['map'],
    says: says.mapSays,
    known: MAP,
    sentence: 'Most alike lie m1 and m2, least alike m1 and m3. The map holds 81 in 100 of what differs.',
    changed: {
      ...{ ...MAP, explained: [0.3, 0.2] },
      mixes: MAP.mixes.map((one) => (one.mix === 'm1' ? { ...one, x: 2, y: 0.9 } : one)),
    },
    other: 'Most alike lie m1 and m3, least alike m2 and m3. The map holds 50 in 100 of what differs.',
  },
  'misses-chart.ts': {
    cases: ['misses'],
    says: says.missesSays,
    known: MISSES,
    sentence: 'The largest miss is m1 on Bitter: −5.5 points beside what is expected.',
    changed: { ...MISSES, points: MISSES.points.map((one) => ({ ...one, expected: 46 })) },
    other: 'The largest miss is m2 on Fresh [peel] e.g. "zest": +6.0 points beside what is expected.',
  },
  'influence-chart.ts': {
    cases: ['influence'],
    says: says.influenceSays,
    known: INFLUENCE,
    // 2 √(3 terms / 3 mixes) = 2
    sentence:
      'Most rests on m2: it moves the model there by −4.2 points, −2.61 standard errors; 71 in 100 of what is known there ' +
      'it says by itself. 1 mix lies beyond the dashed lines. Without m3 the others would not tell the model.',
    changed: {
      ...INFLUENCE,
      rows: INFLUENCE.rows.slice(0, 2).map((row) => ({ ...row, distance: row.mix === 'm1' ? 2 : 0 })),
      terms: 9,
    },
    other:
      'Most rests on m1: it moves the model there by +1.0 points, +0.40 standard errors; 20 in 100 of what is known there ' +
      'it says by itself. No mix lies beyond the dashed lines.',
  },
  'reach-chart.ts': {
    cases: ['reach'],
    says: says.reachSays,
    known: REACH,
    sentence:
      '2 mixes. Least of its room is used of pink: from 20.0 to 30.0 of the 0 to 50.0 parts of a hundred that are allowed ' +
      '(20 in 100).',
    changed: {
      ...REACH,
      mixes: [...REACH.mixes, { mix: 'm3', planned: false, parts: { peel: 12, pink: 50 } }],
    },
    other:
      '3 mixes. Least of its room is used of pink: from 20.0 to 50.0 of the 0 to 50.0 parts of a hundred that are allowed ' +
      '(60 in 100).',
  },
  'rounds-chart.ts': {
    cases: ['distance by round'],
    says: says.roundsSays,
    known: ROUNDS,
    sentence: 'Nearest so far as tasted: m2, 8.1 points of 100 away (between 5.5 and 11.0).',
    changed: { ...ROUNDS, points: ROUNDS.points.map((one) => ({ ...one, distance: 20 - one.distance })) },
    other: 'Nearest so far as tasted: m1, 7.7 points of 100 away (between 9.0 and 16.0).',
  },
  'spent-chart.ts': {
    cases: ['what rounds took', 'what rounds took, without prices'],
    says: says.spentSays,
    known: SPENT,
    sentence: 'In all 44.0 g of material as weighed, 6.20 EUR and 120 cups.',
    changed: { ...SPENT, rounds: SPENT.rounds.map((round) => ({ ...round, money: null, cups: 3 })) },
    other:
      'In all 44.0 g of material as weighed and 6 cups. Money is not told, since a price is missing in the brief.',
  },
  'knowledge-chart.ts': {
    cases: ['knowledge'],
    says: says.knowledgeSays,
    known: KNOWLEDGE,
    sentence:
      'The smallest difference the panel would notice four times in five, in points of 100: 12.0 with 5 mixes, ' +
      '6.1 with 14 mixes; the plan below 7.3 with 9 mixes.',
    changed: { ...KNOWLEDGE, points: [...KNOWLEDGE.points, { mixes: 20, notices: 5 }], own: null },
    other:
      'The smallest difference the panel would notice four times in five, in points of 100: 12.0 with 5 mixes, ' +
      '5.0 with 20 mixes.',
  },
  'triangle/triangle-chart.ts': {
    cases: ['triangle with a target', 'triangle without a target'],
    says: says.triangleSays,
    known: { ...TRIANGLE, means: TRIANGLE.means.map((_, i) => (i === top ? 81.2 : 40)) },
    sentence: expect.stringMatching(
      /^Between 40 and 81, highest at peel \d+, noot \d+ and pink \d+ parts of a hundred\.$/,
    ),
    changed: { ...TRIANGLE, means: TRIANGLE.means.map((_, i) => (i === 0 ? 12 : 7)) },
    other: expect.stringMatching(/^Between 7 and 12, highest at peel \d+, noot \d+ and pink \d+ parts/),
  },
  'triangle/region-chart.ts': {
    cases: ['region with how sure a plan makes it'],
    says: says.regionSays,
    known: REGION,
    sentence:
      'Mixes here: 1 planned and 1 made. Where a prediction would be least sure its error is 4.0 times that where it is surest.',
    changed: { mixes: REGION.mixes.slice(1), variances: [1, 4] },
    other:
      'Mixes here: 1 planned. Where a prediction would be least sure its error is 2.0 times that where it is surest.',
  },
};

describe.each(Object.entries(FILES))('what %s says in a sentence', (_, said) => {
  const says = said.says as (data: unknown) => string;

  it('names its figures, and others once the data are others', () => {
    expect(says(said.known)).toEqual(said.sentence);
    expect(says(said.changed)).toEqual(said.other);
  });

  it.each(said.cases)('is a whole sentence for any amount of data: %s', (name) => {
    const spoken = AMOUNTS.map((amount) => says(CHARTS[name]!(amount).data));
    for (const words of spoken) {
      expect(words).toMatch(/^[A-Z\d].*\.$/s);
      expect(words).not.toMatch(/NaN|undefined|Infinity|null/);
    }
  });
});

it('no chart of the room goes without', () => {
  const room = join(import.meta.dirname, '../../../web/charts');
  const files = readdirSync(room, { recursive: true, encoding: 'utf8' })
    .map((file) => file.replaceAll('\\', '/'))
    .filter((file) => file.endsWith('-chart.ts') && file !== 'empty-chart.ts');
  expect(Object.keys(FILES).sort()).toEqual(files.sort());
  expect(
    Object.values(FILES)
      .flatMap(({ cases }) => cases)
      .sort(),
  ).toEqual(Object.keys(CHARTS).sort());
});

it('what cannot be told is not told as certain, and what does not move as moving', () => {
  const points = ROUNDS.points.map((one) => ({ ...one, low: one.distance, high: one.distance }));
  expect(says.roundsSays({ points })).toBe(
    'Nearest so far as tasted: m2, 8.1 points of 100 away; how sure that is cannot be told.',
  );
  const still = CURVES.points.map((one) => ({ ...one, mean: 58 }));
  expect(says.curvesSays({ ...CURVES, points: still })).toBe(
    'From 20.0 to 50.0 parts of a hundred of peel no score moves.',
  );
});
