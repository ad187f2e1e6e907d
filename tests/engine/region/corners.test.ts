import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EngineError } from '../../../engine/errors.ts';
import type { BlendSpace, ShareBound } from '../../../engine/region/blend-space.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { exactCorners } from './exact-corners.ts';
import { apart, loadTestSolver, simplex, spaceOf } from './spaces.ts';

const solver = await loadTestSolver();
const checks = JSON.parse(
  readFileSync(new URL('../../reference/design/design-checks.json', import.meta.url), 'utf8'),
);

interface Case {
  name: string;
  lower: number[];
  upper: number[];
  n_vertices: number;
  vertices: number[][] | null;
  implied_lower: number[];
  implied_upper: number[];
}

describe('corners of published and computed regions', () => {
  for (const one of checks.extreme_vertices as Case[])
    it(one.name, () => {
      const region = describeRegion(spaceOf(one.lower, one.upper), solver);
      expect(region.corners.points).toHaveLength(one.n_vertices);
      expect(region.corners.complete).toBe(true);
      if (one.vertices) expect(apart(region.corners.points, one.vertices)).toBeLessThan(1e-12);
      one.implied_lower.forEach((low, i) => {
        expect(Math.abs(region.low[i]! - low)).toBeLessThan(1e-12);
        expect(Math.abs(region.high[i]! - one.implied_upper[i]!)).toBeLessThan(1e-12);
      });
    });

  it('flare of McLean and Anderson (1966): 8 corners, 12 edges, 6 faces', () => {
    const { corners, facets } = describeRegion(spaceOf([0.4, 0.1, 0.1, 0.03], [0.6, 0.5, 0.5, 0.08]), solver);
    expect([corners.points.length, corners.edges.length, facets.length]).toEqual([8, 12, 6]);
  });
});

/** A space of decimals with a known mix inside, from small whole numbers. */
function spaceAround(q: number, numbers: readonly number[], bounds: number): BlendSpace {
  let next = 0;
  const draw = (n: number) => numbers[next++ % numbers.length]! % n;
  const parts = Array.from({ length: q }, () => 1 + draw(20));
  const total = parts.reduce((a, b) => a + b, 0);
  const shares = parts.map((p) => Math.round((100 * p) / total) / 100);
  shares[0] = Math.round((shares[0]! + 1 - shares.reduce((a, b) => a + b, 0)) * 100) / 100;
  const low = shares.map((s) => Math.max(0, Math.round((s - draw(20) / 100) * 100) / 100));
  const high = shares.map((s) => Math.min(1, Math.round((s + draw(30) / 100) * 100) / 100));
  const rows: ShareBound[] = Array.from({ length: bounds }, () => {
    const row = shares.map(() => draw(7) - 3);
    const middle = row.reduce((sum, c, i) => sum + c * shares[i]!, 0);
    const of = Object.fromEntries(row.map((c, i) => ['abcdefghijkl'[i]!, c]));
    return draw(2) === 0
      ? { of, least: Math.round((middle - draw(20) / 100) * 100) / 100 }
      : { of, most: Math.round((middle + draw(20) / 100) * 100) / 100 };
  });
  return spaceOf(low, high, rows);
}

const numbers = fc.array(fc.nat(1_000_000), { minLength: 60, maxLength: 60 });

describe('corners against brute force in fractions', () => {
  for (const [q, bounds, runs] of [
    [2, 2, 40],
    [3, 2, 60],
    [4, 2, 60],
    [5, 2, 15],
  ] as const)
    it(`${q} components, ${bounds} bounds, ${runs} random regions, flat and touching ones among them`, () => {
      fc.assert(
        fc.property(numbers, (drawn) => {
          const space = spaceAround(q, drawn, bounds);
          const { corners } = describeRegion(space, solver);
          expect(apart(corners.points, exactCorners(space))).toBeLessThan(1e-12);
        }),
        { seed: 7, numRuns: runs },
      );
    });

  it('components that differ a hundredfold', () => {
    const space = spaceOf(
      [0.002, 0.2, 0.1, 0.001],
      [0.01, 0.7, 0.6, 0.003],
      [
        { of: { a: 1, d: -2 }, least: 0.0005 },
        { of: { b: 1, c: -1 }, most: 0.3 },
      ],
    );
    expect(apart(describeRegion(space, solver).corners.points, exactCorners(space))).toBeLessThan(1e-14);
  });

  it('many facets through one corner', () => {
    const through = (a: number, b: number): ShareBound => ({ of: { a, b, c: a + b }, least: (a + b) / 4 });
    const bounds = [through(1, 2), through(2, 1), through(1, 1), through(3, 1), through(1, 3)];
    const space = spaceOf([0.1, 0.1, 0.1, 0.1], [0.4, 0.4, 0.4, 0.4], bounds);
    expect(apart(describeRegion(space, solver).corners.points, exactCorners(space))).toBeLessThan(1e-12);
  });

  it('a bound and a lower-dimensional region', () => {
    const space = spaceOf([0, 0, 0, 0], [1, 1, 1, 0.6], [{ of: { a: 1, b: -2 }, least: 0, most: 0 }]);
    const region = describeRegion(space, solver);
    expect([region.shape, region.dimension]).toEqual(['flat', 2]);
    expect(apart(region.corners.points, exactCorners(space))).toBeLessThan(1e-12);
  });
});

describe('what must not matter', () => {
  it('a bound split in two, a bound in other units, bounds that say nothing new', () => {
    fc.assert(
      fc.property(numbers, fc.integer({ min: -6, max: 6 }), (drawn, power) => {
        const space = spaceAround(4, drawn, 2);
        const split = space.bounds.flatMap(({ of, least, most }) => [
          ...(least === undefined ? [] : [{ of, least }]),
          ...(most === undefined ? [] : [{ of, most }]),
        ]);
        const scaled = split.map(({ of, ...sides }) => {
          const scale = 10 ** power;
          const times = ([key, value]: [string, number]): [string, number] => [key, value * scale];
          return {
            of: Object.fromEntries(Object.entries(of).map(times)),
            ...Object.fromEntries(Object.entries(sides).map(times)),
          };
        });
        const idle: ShareBound = { of: { a: 1, b: 1, c: 1, d: 1 }, most: 1.5 };
        const one = describeRegion(space, solver);
        const other = describeRegion({ ...space, bounds: [...scaled, idle, ...scaled] }, solver);
        expect(apart(other.corners.points, one.corners.points)).toBeLessThan(1e-11);
        expect(other.dimension).toBe(one.dimension);
      }),
      { seed: 3, numRuns: 25 },
    );
  });

  it('the order of the components', () => {
    fc.assert(
      fc.property(numbers, (drawn) => {
        const space = spaceAround(4, drawn, 2);
        const turned = { ...space, components: [...space.components].reverse() };
        const one = describeRegion(space, solver).corners.points;
        const other = describeRegion(turned, solver).corners.points.map((p) => [...p].reverse());
        expect(apart(other, one)).toBeLessThan(1e-12);
      }),
      { seed: 4, numRuns: 25 },
    );
  });
});

describe('many corners', () => {
  it('twelve components: all corners of a region with 4,000, again and again the same', () => {
    const low = Array.from({ length: 12 }, (_, i) => 0.002 * i);
    const high = Array.from({ length: 12 }, (_, i) => 0.16 + 0.007 * i);
    const { corners } = describeRegion(spaceOf(low, high), solver);
    expect(corners.complete).toBe(true);
    expect(corners.points.length).toBeGreaterThan(3000);
    const tight = corners.points.map(
      (p) => p.filter((v, i) => Math.abs(v - low[i]!) < 1e-12 || Math.abs(v - high[i]!) < 1e-12).length,
    );
    expect(Math.min(...tight)).toBe(11);
    const sums = corners.points.map((p) => Math.abs(p.reduce((a, b) => a + b, -1)));
    expect(Math.max(...sums)).toBeLessThan(1e-13);
  });

  it('past the counted work limit: a seeded sample of true corners that says so', () => {
    const space = simplex(6);
    const bounded = { ...space, components: space.components.map((c) => ({ ...c, high: 0.45 })) };
    const all = describeRegion(bounded, solver).corners;
    const [one, two] = [1, 1].map((seed) => describeRegion(bounded, solver, { seed, workLimit: 10 }).corners);
    expect(one!.complete).toBe(false);
    expect(one!.points).toEqual(two!.points);
    const known = new Set(all.points.map((p) => p.map((v) => v.toFixed(9)).join()));
    expect(one!.points.every((p) => known.has(p.map((v) => v.toFixed(9)).join()))).toBe(true);
  });
});

describe('regions that hold little or nothing', () => {
  it('a single point', () => {
    const region = describeRegion(spaceOf([0.2, 0.3, 0.5], [1, 1, 1]), solver);
    expect(region.shape).toBe('point');
    expect(region.corners.points).toHaveLength(1);
    [0.2, 0.3, 0.5].forEach((share, j) => {
      expect(Math.abs(region.corners.points[0]![j]! - share)).toBeLessThan(1e-12);
    });
    expect(region.warnings.join()).toMatch(/single blend/);
  });

  it('an empty region names the smallest conflict and how far each bound must give', () => {
    const space = spaceOf(
      [0, 0, 0],
      [1, 1, 1],
      [
        { of: { a: 1, b: 1 }, least: 0.6 },
        { of: { b: 1, c: 1 }, most: 0.3 },
        { of: { a: 1 }, most: 0.65 },
      ],
    );
    const error = refused(space);
    expect(error.fault).toBe('empty-region');
    const found = error.found as { path: string; give: number }[];
    expect(found.map(({ path }) => path)).toEqual(['bounds[1].most', 'bounds[2].most']);
    for (const { give } of found) expect(give).toBeCloseTo(0.05, 9);
    expect(error.message).toMatch(/b \+ c at most 0\.35 \(by 0\.05\)/);
  });

  it('lows beyond 1, highs below 1, and a miss of a hundred-thousandth', () => {
    expect(refused(spaceOf([0.5, 0.3, 0.3], [1, 1, 1])).message).toMatch(/a at least 0\.4 \(by 0\.1\)/);
    expect(refused(spaceOf([0, 0], [0.3, 0.3])).message).toMatch(/a at most 0\.7 \(by 0\.4\)/);
    const near = spaceOf(
      [0, 0, 0],
      [1, 1, 1],
      [
        { of: { a: 1, b: 1 }, most: 0.5 },
        { of: { c: 1 }, most: 0.49999 },
      ],
    );
    expect(refused(near).fault).toBe('empty-region');
  });

  it('says why a high cannot be reached', () => {
    const names = { b: 'Pepper', a: 'Peel', c: 'Lime', d: 'Wood' };
    const region = describeRegion(spaceOf([0.4, 0.1, 0.1, 0.03], [0.6, 0.5, 0.5, 0.08]), solver, { names });
    expect(region.warnings[0]).toBe(
      'Pepper can in fact not exceed 0.47: Peel at least 0.4, Lime at least 0.1 and Wood at least 0.03.',
    );
  });
});

function refused(space: BlendSpace): EngineError {
  try {
    describeRegion(space, solver);
  } catch (error) {
    if (error instanceof EngineError) return error;
    throw error;
  }
  throw new Error('the space was not refused');
}
