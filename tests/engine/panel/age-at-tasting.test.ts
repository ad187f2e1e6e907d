import { describe, expect, it } from 'vitest';
import { fitRatios } from '../../../engine/model/fit-ratios.ts';
import { REFERENCE, type Serving } from '../../../engine/panel/observations.ts';
import { readPanel } from '../../../engine/panel/read-panel.ts';
import { spaceOf } from '../region/spaces.ts';
import { expectClose } from './mixed/closeness.ts';
import { attribute, expectNoNaN, readReference } from './panel-data.ts';

/** Written by tests/reference/panel/age-at-tasting.R with lme4 and lmerTest. */
interface Case {
  panel: 'again' | 'fresh';
  slope: number;
  estimate: number;
  se: number;
  df: number;
  p: number;
  means: number[];
}
const { cases } = readReference<{ cases: Case[] }>('panel/age-at-tasting.json');

/** Hours by mix and session; null: not poured there; 0: the reference, which does not age. */
const PANELS: Record<Case['panel'], (number | null)[][]> = {
  again: [
    [24, 200, null],
    [24, null, 400],
    [null, 24, 200],
    [null, 30, 60],
    [0, 0, 0],
  ],
  fresh: [
    [20, 100, 300],
    [70, 150, 350],
    [null, 24, 224],
    [null, null, 26],
    [null, null, null],
  ],
};

const remainder = (value: number, by: number) => value % by;
const noise = (a: number, m: number, s: number) =>
  remainder(17 * a + 29 * m + 13 * s + 7 * a * m + 3 * a * s + 11 * m * s, 23) - 11;

/** The same panel as the script makes. */
function servingsOf(hours: readonly (readonly (number | null)[])[], slope: number): Serving[] {
  const out: Serving[] = [];
  for (let a = 1; a <= 6; a++)
    hours.forEach((own, row) => {
      own.forEach((one, column) => {
        if (one === null) return;
        const [m, s] = [row + 1, column + 1];
        const aged = one > 0 ? slope * Math.log2(one) : 0;
        const y = 50 + 4 * m + 2 * a + 3 * remainder(s * s, 3) + aged + 0.6 * noise(a, m, s);
        const mix = one === 0 ? REFERENCE : `m${m}`;
        out.push({
          ...{ mix, assessor: `P${a}`, session: String(s), replicate: null, position: m },
          ...{ hours: one === 0 ? null : one, scores: [y] },
        });
      });
    });
  return out;
}

const wide = { scale: [0, 1000] as const };
const whole = (servings: readonly Serving[], more = {}) =>
  readPanel({ servings, attributes: [attribute('y', wide)], ...more });
const read = (servings: readonly Serving[], more = {}) => whole(servings, more).attributes[0]!;

describe('the age of bottles beside the mixes, against lme4 and lmerTest', () => {
  it.each(cases.map((c) => [`${c.panel}, ${c.slope} points a doubling`, c] as const))('%s', (_, expected) => {
    const { age, means } = read(servingsOf(PANELS[expected.panel], expected.slope));
    expect(age?.status).toBe('counted');
    expectClose(age!.effect!.estimate, expected.estimate, 1e-5, 1e-5);
    expectClose(age!.effect!.standardError!, expected.se, 0, 1e-4);
    expectClose(age!.effect!.denDf!, expected.df, 0, 1e-3);
    expectClose(age!.effect!.p!, expected.p, 1e-5, 1e-3);
    for (const [m, { mean }] of means.entries()) expectClose(mean, expected.means[m]!, 1e-4, 1e-6);
    expect(age!.says).toMatch(expected.slope > 1 ? /^Age shows: .* by \+/ : /does not show/);
  });
});

describe('what cannot be told is said', () => {
  const statusOf = (hours: (number | null)[][]) => {
    const { age, attributes } = whole(servingsOf(hours, 1));
    expect(attributes[0]!.age !== undefined).toBe(age?.status === 'counted');
    return age;
  };

  it('each mix at one age only, whatever the sittings', () => {
    const age = statusOf([
      [24, 24],
      [48, 48],
      [72, 72],
    ]);
    expect(age).toMatchObject({ status: 'each-mix-once', youngest: 24, oldest: 72 });
  });

  it('all mixes older alike in the next sitting; the reference in both would tell', () => {
    const alike = [
      [24, 48],
      [24, 48],
    ];
    expect(statusOf(alike)).toMatchObject({ status: 'with-sessions' });
    expect(statusOf([...alike, [0, 0]])!.status).toBe('counted');
  });

  it('within an hour or a tenth all are alike', () => {
    expect(
      statusOf([
        [24, 26.3],
        [24.5, 26],
      ])!.status,
    ).toBe('alike');
    expect(
      statusOf([
        [0.1, 1],
        [0.2, 0.9],
      ])!.status,
    ).toBe('alike');
  });

  it('an age that is not known for some; none at all says nothing', () => {
    const servings = servingsOf(PANELS.again, 1);
    const some = servings.map((one, i) => (i === 3 ? { ...one, hours: null } : one));
    expect(whole(some).age).toMatchObject({ status: 'not-known' });
    expect(whole(servings.map(({ hours: _, ...one }) => one))).not.toHaveProperty('age');
  });

  it('where every score is the same there is no effect, and nothing that is no number', () => {
    const flat = servingsOf(PANELS.again, 1).map((one) => ({ ...one, scores: [7] }));
    const reading = read(flat);
    expect(reading).not.toHaveProperty('age');
    expectNoNaN(reading);
  });
});

describe('what must not matter', () => {
  it('days for hours, the order of rows, and the order of serving taken out beside it', () => {
    const servings = servingsOf(PANELS.again, 3);
    const found = read(servings).age!.effect!;
    const days = servings.map((one) => ({ ...one, hours: one.hours && one.hours * 24 }));
    expectClose(read(days).age!.effect!.estimate, found.estimate, 1e-8, 1e-8);
    expectClose(read([...servings].reverse()).age!.effect!.estimate, found.estimate, 1e-8, 1e-8);
    const both = read(
      servings.map((one, i) => ({ ...one, position: (i % 3) + 1 })),
      { adjust: true },
    );
    expect(both.age!.status).toBe('counted');
    expect(both.order!.map(({ effect }) => effect)).toContain('cup 2 of a sitting, against the first');
    expect(both.order!.map(({ effect }) => effect)).not.toContain(found.effect);
  });
});

describe('the ratios', () => {
  const space = spaceOf([0, 0, 0], [1, 1, 1]);
  const region = { centroid: [1 / 3, 1 / 3, 1 / 3], low: [0, 0, 0], high: [1, 1, 1] };
  const shares = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
    [0.5, 0.5, 0],
    [0.5, 0, 0.5],
    [0, 0.5, 0.5],
    [0.4, 0.3, 0.3],
  ];
  const mixes = shares.map((own, m) => ({
    ...{ mix: `m${m + 1}`, blend: `m${m + 1}`, shares: own, settings: [], round: '1' },
  }));
  const fitted = (servings: readonly Serving[], model: 'linear' | 'process' = 'linear') =>
    fitRatios({ space, region, mixes, servings, attributes: [attribute('y', wide)], model }).attributes[0]!;
  const weighed = (servings: readonly Serving[]) => servings.filter(({ mix }) => mix !== REFERENCE);

  it('are read with age taken out wherever the mixes let it be told, by either kind of model', () => {
    const servings = servingsOf([...PANELS.again.slice(0, 4), [24, 200, null], [0, 0, 0]], 3);
    for (const model of ['linear', 'process'] as const) {
      const { age, warnings } = fitted(servings, model);
      expect(age!.effect).toBe('each doubling of the age');
      // The truth is 3; the scatter is a rule, not chance.
      expect(age!.estimate).toBeGreaterThan(2);
      expect(age!.estimate).toBeLessThan(4);
      expect(warnings.join()).not.toContain('follow the ratios');
    }
  });

  it('are doubted where ages follow them, and not where they do not', () => {
    const hoursOf = (rule: (own: number[], m: number) => number) =>
      weighed(
        servingsOf(
          shares.map((own, m) => [rule(own, m)]),
          0,
        ),
      );
    const followed = fitted(hoursOf(([a]) => 24 * 2 ** (3 * a!)));
    expect(followed).not.toHaveProperty('age');
    expect(followed.warnings.join()).toMatch(/ages follow the ratios \(R² adjusted 1\.00\)/);
    const apart = fitted(hoursOf((_, m) => [24, 48, 24, 48, 48, 24, 72][m]!));
    expect(apart.warnings.join()).not.toContain('follow the ratios');
  });
});
