import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import type { LinearSolver } from '../../../engine/numeric/linear-solver.ts';
import type { Serving, WeighedMix } from '../../../engine/panel/observations.ts';
import { fitOperation, panelOperation, predictOperation } from '../../../trials/rounds/operations.ts';
import { Brief } from '../../../trials/schema/brief.ts';
import { toAttributes } from '../../../trials/schema/engine-shapes.ts';
import { loadSolver } from '../../../trials/solver.ts';

/** What the panel, fit and predict commands answer must not depend on how the same tasting is written down. */
const options = { seed: 4711, numRuns: 4 };
const SHARES = [
  [0.7, 0.15, 0.15],
  [0.2, 0.6, 0.2],
  [0.2, 0.2, 0.6],
  [0.4, 0.3, 0.3],
  [0.5, 0.1, 0.4],
  [0.3, 0.5, 0.2],
];
const NAMES = SHARES.map((_, m) => `m${m + 1}`);
let solver: LinearSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

function briefOn(scale: [number, number]): Brief {
  return Brief.parse({
    format: 'brief/1',
    components: [
      { id: 'peel', low: 0.1 },
      { id: 'lime', low: 0.1 },
      { id: 'wood', low: 0.1 },
    ],
    batch: { grams: 10, readability: 0.01 },
    attributes: [{ id: 'bitter', scale }],
    panel: { assessors: 3, cupsPerSitting: 6 },
  });
}

interface Tasting {
  mixes: WeighedMix[];
  servings: Serving[];
}

/** Three or four tasters, two evenings, some gaps. */
const tastings = fc
  .record({
    tasters: fc.integer({ min: 3, max: 4 }),
    noise: fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 48, maxLength: 48 }),
    gaps: fc.array(fc.integer({ min: 0, max: 47 }), { maxLength: 3 }),
  })
  .map(({ tasters, noise, gaps }): Tasting => {
    let at = 0;
    const servings = Array.from({ length: tasters }, (_, a) =>
      ['1', '2'].flatMap((replicate) =>
        NAMES.map((mix, m): Serving => {
          const [peel, lime] = SHARES[m] as [number, number, number];
          const score = 30 + 40 * peel + 10 * lime + 5 * a + noise[at]!;
          const cup = { mix, assessor: `P${a + 1}`, session: `evening ${replicate}`, replicate };
          const given = gaps.includes(at) ? null : Math.max(0, Math.min(100, score));
          at++;
          return { ...cup, position: m + 1, scores: [given] };
        }),
      ),
    ).flat();
    const mixes = NAMES.map((mix, m) => ({ mix, blend: mix, round: '1', shares: SHARES[m]!, settings: [] }));
    return { mixes, servings };
  });

interface Written extends Tasting {
  brief: Brief;
}

/** The figures of all three commands, scores counted from `zero` in steps of `unit`. */
function figures({ brief, mixes, servings }: Written, zero = 0, unit = 1) {
  const tasted = { brief, mixes, servings };
  const panel = panelOperation({ servings, attributes: toAttributes(brief) }).attributes[0]!;
  const fit = fitOperation({ ...tasted, model: 'linear' }, { solver }).attributes[0]!;
  const rows = [{ name: 'middle', shares: [0.4, 0.35, 0.25], settings: [] }];
  const [predicted] = predictOperation({ ...tasted, model: 'linear', rows, seed: 1 }, { solver }).rows;
  const [bitter] = predicted!.attributes;
  const level = (v: number | null) => (v === null ? null : (v - zero) / unit);
  const length = (v: number | null) => (v === null ? null : v / unit);
  const square = (v: number | null | undefined) => (v == null ? null : v / unit ** 2);
  return {
    means: panel.means.map(({ mean, standardError }) => [level(mean), length(standardError)]),
    differences: panel.differences.map(({ difference, p }) => [length(difference), p]),
    mixTest: [panel.mixTest.f, panel.mixTest.denDf, panel.mixTest.p],
    panelVariance: Object.values(panel.variance).map(square),
    assessors: panel.assessors.map((a) => [
      a.discrimination.p,
      length(a.repeatability),
      a.agreement,
      a.scaling,
    ]),
    coefficients: fit.coefficients.map((c) => [level(c.estimate), length(c.standardError), c.denDf]),
    effects: fit.effects.map(({ change, p }) => [length(change), p]),
    blending: [fit.blending.f, fit.blending.p],
    lackOfFit: [fit.lackOfFit.f, fit.lackOfFit.p],
    left: [length(fit.leaveOneMixOut.rmse), fit.leaveOneMixOut.q2, fit.rSquared],
    predicted: [level(bitter!.mean), length(bitter!.standardError), ...bitter!.interval!.map(level)],
  };
}

function expectSame(found: unknown, expected: unknown, path = 'figures'): void {
  if (typeof expected === 'number') {
    expect(typeof found, path).toBe('number');
    const room = 1e-5 + 1e-4 * Math.abs(expected);
    expect(Math.abs((found as number) - expected), `${path}: ${found} beside ${expected}`).toBeLessThan(room);
  } else if (expected !== null && typeof expected === 'object')
    for (const [key, value] of Object.entries(expected))
      expectSame((found as Record<string, unknown>)[key], value, `${path}.${key}`);
  else expect(found, path).toBe(expected);
}

const plain = briefOn([0, 100]);

test('the zero and the unit of the scale', () => {
  fc.assert(
    fc.property(tastings, ({ mixes, servings }) => {
      const moved = servings.map((s) => ({
        ...s,
        scores: s.scores.map((v) => (v === null ? v : 200 + 0.5 * v)),
      }));
      const found = figures({ brief: briefOn([200, 250]), mixes, servings: moved }, 200, 0.5);
      expectSame(found, figures({ brief: plain, mixes, servings }));
    }),
    options,
  );
});

test('the order of rows, of cups and of mixes', () => {
  fc.assert(
    fc.property(tastings, fc.integer({ min: 1, max: 10_000 }), ({ mixes, servings }, key) => {
      const shuffled = servings
        .map((serving, i) => ({ serving, at: (i * 7919 * key) % 104_729 }))
        .sort((a, b) => a.at - b.at)
        .map(({ serving }) => serving);
      const found = figures({ brief: plain, mixes: [...mixes].reverse(), servings: shuffled });
      expectSame(found, figures({ brief: plain, mixes, servings }));
    }),
    options,
  );
});

test('the names of mixes, tasters and evenings', () => {
  fc.assert(
    fc.property(tastings, ({ mixes, servings }) => {
      const named = (mix: string) => `Blend ${mix}`;
      const renamed = servings.map((s) => ({
        ...s,
        mix: named(s.mix),
        assessor: `Taster ${s.assessor}`,
        session: `on ${s.session}`,
      }));
      const others = mixes.map((m) => ({ ...m, mix: named(m.mix), blend: named(m.blend) }));
      const found = figures({ brief: plain, mixes: others, servings: renamed });
      expectSame(found, figures({ brief: plain, mixes, servings }));
    }),
    options,
  );
});

test('a replicate split in two under other names', () => {
  fc.assert(
    fc.property(tastings, ({ mixes, servings }) => {
      const split = servings.map((s) => ({
        ...s,
        replicate: s.replicate === '1' && Number(s.mix.slice(1)) > 3 ? '1 after the break' : s.replicate,
      }));
      expectSame(
        figures({ brief: plain, mixes, servings: split }),
        figures({ brief: plain, mixes, servings }),
      );
    }),
    options,
  );
});
