import { compile } from 'vega-lite';
import { describe, expect, it } from 'vitest';
import { differencesChart } from '../../../web/charts/differences-chart.ts';
import { effectsChart } from '../../../web/charts/effects-chart.ts';
import { knowledgeChart } from '../../../web/charts/knowledge-chart.ts';
import { profileChart } from '../../../web/charts/profile-chart.ts';
import { roundsChart } from '../../../web/charts/rounds-chart.ts';
import { spentChart } from '../../../web/charts/spent-chart.ts';
import { type ChartFrame, DARK, LIGHT, type Spec } from '../../../web/charts/theme.ts';
import { regionChart } from '../../../web/charts/triangle/region-chart.ts';
import { triangleChart } from '../../../web/charts/triangle/triangle-chart.ts';
import { ATTRIBUTES, MIXES, points, ROUNDS, SPENT, triangleData } from './chart-cases.ts';
import { schemaFaults } from './vega-lite-schema.ts';

const profile = { title: 'Scores', attributes: ATTRIBUTES, mixes: MIXES, points: points() };
const effects = {
  title: 'Tilt',
  components: [
    { id: 'peel', name: 'peel' },
    { id: 'pink', name: 'pink' },
  ],
  attributes: ATTRIBUTES,
  cells: ATTRIBUTES.flatMap(({ id }, i) => [
    {
      component: 'peel',
      attribute: id,
      change: 10 * i - 8,
      low: 10 * i - 12,
      high: 10 * i - 4,
      tells: i !== 1,
    },
    { component: 'pink', attribute: id, change: -3, low: -9, high: 3, tells: false },
  ]),
};
const differences = {
  title: 'Mixes',
  attribute: ATTRIBUTES[0]!,
  means: points().filter(({ attribute }) => attribute === 'bitter'),
  groups: [
    ['m1', 'm2'],
    ['m2', 'constructor'],
  ],
};

/** Every chart of the room with data of each kind. */
const CHARTS: Record<string, [data: unknown, draw: (frame: ChartFrame) => Spec]> = {
  'profile as tasted': [profile, (frame) => profileChart({ ...profile, kind: 'tasted' }, frame)],
  'profile as predicted': [profile, (frame) => profileChart({ ...profile, kind: 'predicted' }, frame)],
  'what differs': [differences, (frame) => differencesChart(differences, frame)],
  'nothing differs': [differences, (frame) => differencesChart({ ...differences, groups: [] }, frame)],
  'distance by round': [ROUNDS, (frame) => roundsChart(ROUNDS, frame)],
  'what rounds took': [SPENT, (frame) => spentChart(SPENT, frame)],
  'what rounds took, without prices': (() => {
    const data = { ...SPENT, rounds: SPENT.rounds.map((round) => ({ ...round, money: null })) };
    return [data, (frame: ChartFrame) => spentChart(data, frame)] as const;
  })() as [unknown, (frame: ChartFrame) => Spec],
  effects: [effects, (frame) => effectsChart(effects, frame)],
  'triangle with a target': (() => {
    const data = triangleData();
    return [data, (frame: ChartFrame) => triangleChart(data, frame)] as const;
  })() as [unknown, (frame: ChartFrame) => Spec],
  'region with how sure a plan makes it': (() => {
    const { frame, outline, mesh, means, names, mixes } = triangleData();
    const states = ['planned', 'held', 'made'] as const;
    const data = {
      ...{ title: 'What may be mixed', names, frame, outline, mesh, variances: means },
      mixes: mixes.map(({ mix, shares, onSlice }, k) => ({ mix, shares, onSlice, state: states[k % 3]! })),
    };
    return [data, (frame: ChartFrame) => regionChart(data, frame)] as const;
  })() as [unknown, (frame: ChartFrame) => Spec],
  knowledge: (() => {
    const data = {
      title: 'Where more mixes stop paying',
      points: [5, 7, 9, 14].map((mixes) => ({ mixes, notices: 60 / mixes })),
      named: [
        { mixes: 7, name: 'Two evenings' },
        { mixes: 8, name: 'not on the curve' },
      ],
      own: { mixes: 9, notices: 7 },
    };
    return [data, (frame: ChartFrame) => knowledgeChart(data, frame)] as const;
  })() as [unknown, (frame: ChartFrame) => Spec],
  'triangle without a target': (() => {
    const data = { ...triangleData(ATTRIBUTES[3]), veilAbove: 1e6 };
    return [data, (frame: ChartFrame) => triangleChart(data, frame)] as const;
  })() as [unknown, (frame: ChartFrame) => Spec],
};

describe.each(Object.entries(CHARTS))('%s', (_, [data, draw]) => {
  const frames = [
    { width: 960, theme: LIGHT },
    { width: 358, theme: DARK },
  ];

  it('is valid by the published schema of Vega-Lite', () => {
    for (const frame of frames) expect(schemaFaults(draw(frame))).toEqual([]);
  });

  it('compiles without a warning', () => {
    for (const frame of frames) expect(warningsOf(draw(frame))).toEqual([]);
  });

  it('leaves what it is given as it was', () => {
    const before = JSON.stringify(data);
    deepFreeze(data);
    draw(frames[0]!);
    expect(JSON.stringify(data)).toBe(before);
  });

  it('says what it shows', () => {
    expect(draw(frames[0]!)).toHaveProperty('title', expect.stringMatching(/\w/));
  });
});

describe('the check by schema', () => {
  it('finds a misspelt mark, an unknown property and a wrong type', () => {
    const good = { data: { values: [] }, mark: 'point', encoding: {} };
    expect(schemaFaults(good)).toEqual([]);
    expect(schemaFaults({ ...good, mark: 'pint' })).not.toEqual([]);
    expect(schemaFaults({ ...good, encoding: { x: { feild: 'a' } } })).not.toEqual([]);
    expect(schemaFaults({ ...good, width: [3] })).not.toEqual([]);
  });
});

function warningsOf(spec: Spec): string[] {
  const heard: string[] = [];
  const hear = (...said: readonly unknown[]) => {
    heard.push(said.map(String).join(' '));
    return logger;
  };
  const logger = { level: () => logger, warn: hear, error: hear, info: () => logger, debug: () => logger };
  compile(spec, { logger: logger as never });
  return heard;
}

function deepFreeze(value: unknown): void {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value)) return;
  Object.freeze(value);
  Object.values(value).forEach(deepFreeze);
}
