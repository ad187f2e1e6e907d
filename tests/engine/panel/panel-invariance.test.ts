import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Serving } from '../../../engine/panel/observations.ts';
import { readPanel } from '../../../engine/panel/read-panel.ts';
import type { AttributeReading } from '../../../engine/panel/reading-types.ts';
import { attribute, expectNoNaN, servingsFrom } from './panel-data.ts';

const options = { seed: 20250101, numRuns: 25 };

/** A panel with gaps, two sessions and whole scores. */
const panels = fc
  .record({
    assessors: fc.integer({ min: 2, max: 6 }),
    mixes: fc.integer({ min: 2, max: 5 }),
    scores: fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 90, maxLength: 90 }),
    gaps: fc.array(fc.integer({ min: 0, max: 59 }), { maxLength: 8 }),
  })
  .map(({ assessors, mixes, scores, gaps }) => {
    let at = 0;
    const all = servingsFrom({ assessors, mixes, replicates: 2 }, (a, m) => [
      Math.min(100, scores[at++]! / 3 + 9 * m + 5 * a),
    ]);
    return all.map((s, i) => ({
      ...s,
      session: s.replicate === '1' ? 'Tue' : 'Wed',
      scores: gaps.includes(i) ? [null] : s.scores,
    }));
  });

function read(servings: Serving[]): AttributeReading {
  return readPanel({ servings, attributes: [attribute('bitter', { scale: null })] }).attributes[0]!;
}

/** Everything that should stay put when scores are shifted by `shift` and scaled by `scale`, in the first units. */
function figures(reading: AttributeReading, shift = 0, scale = 1) {
  const back = (v: number | null) => (v === null ? null : v / scale);
  return {
    means: reading.means.map((m) => [m.mix, (m.mean - shift) / scale, back(m.standardError), m.denDf]),
    test: [reading.mixTest.f, reading.mixTest.denDf, reading.mixTest.p],
    variance: Object.values(reading.variance).map((v) => (v === null ? null : v / scale ** 2)),
    differences: reading.differences.map((d) => [d.a, d.b, back(d.difference), back(d.standardError), d.p]),
    assessors: reading.assessors.map((a) => [
      a.assessor,
      a.discrimination.f,
      back(a.repeatability),
      a.agreement,
      a.scaling,
      back(a.offset),
    ]),
  };
}

function expectSame(found: unknown, expected: unknown, rtol: number, path = 'figures'): void {
  if (typeof expected === 'number') {
    const room = 1e-5 + rtol * Math.abs(expected);
    if (!(Math.abs((found as number) - expected) <= room))
      expect.fail(`${path}: found ${found}, expected ${expected}`);
  } else if (Array.isArray(expected)) {
    expect((found as unknown[]).length, path).toBe(expected.length);
    for (const [i, v] of expected.entries()) expectSame((found as unknown[])[i], v, rtol, `${path}[${i}]`);
  } else if (expected && typeof expected === 'object') {
    for (const [key, v] of Object.entries(expected))
      expectSame((found as Record<string, unknown>)[key], v, rtol, `${path}.${key}`);
  } else expect(found, path).toEqual(expected);
}

describe('a panel reading does not depend on', () => {
  it('the zero and the unit of the scale', () => {
    fc.assert(
      fc.property(panels, (servings) => {
        const moved = servings.map((s) => ({
          ...s,
          scores: s.scores.map((v) => (v === null ? null : 1000 + 0.1 * v)),
        }));
        expectSame(figures(read(moved), 1000, 0.1), figures(read(servings)), 1e-4);
      }),
      options,
    );
  });

  it('the order of the rows', () => {
    fc.assert(
      fc.property(panels, fc.integer({ min: 1, max: 1000 }), (servings, k) => {
        const order = servings
          .map((s, i) => ({ s, key: (i * 7919 * k) % 104729 }))
          .sort((a, b) => a.key - b.key);
        expectSame(figures(read(order.map(({ s }) => s))), figures(read(servings)), 1e-6);
      }),
      options,
    );
  });

  it('the names of mixes and assessors', () => {
    fc.assert(
      fc.property(panels, (servings) => {
        const renamed = servings.map((s) => ({
          ...s,
          mix: `blend ${s.mix}`,
          assessor: `Taster ${s.assessor}`,
        }));
        const found = figures(read(renamed));
        const expected = figures(read(servings));
        expectSame(
          {
            ...found,
            means: found.means.map((m) => m.slice(1)),
            differences: found.differences.map((d) => d.slice(2)),
            assessors: found.assessors.map((a) => a.slice(1)),
          },
          {
            ...expected,
            means: expected.means.map((m) => m.slice(1)),
            differences: expected.differences.map((d) => d.slice(2)),
            assessors: expected.assessors.map((a) => a.slice(1)),
          },
          1e-6,
        );
      }),
      options,
    );
  });

  it('the order of the mixes: the same F, means and differences when names are turned round', () => {
    fc.assert(
      fc.property(panels, (servings) => {
        const turn = (mix: string) => `m${9 - Number(mix.slice(1))}`;
        const found = read(servings.map((s) => ({ ...s, mix: turn(s.mix) })));
        const expected = read(servings);
        expectSame(found.mixTest.f, expected.mixTest.f, 1e-6);
        for (const m of expected.means)
          expectSame(found.means.find((o) => o.mix === turn(m.mix))!.mean, m.mean, 1e-6);
        for (const d of expected.differences)
          expectSame(found.differences.find((o) => o.a === turn(d.b) && o.b === turn(d.a))!.p, d.p, 1e-5);
      }),
      options,
    );
  });

  it('and never holds anything but finite numbers and null', () => {
    fc.assert(
      fc.property(panels, fc.integer({ min: 0, max: 40 }), (servings, keep) => {
        expectNoNaN(read(servings.slice(0, keep)));
      }),
      { ...options, numRuns: 60 },
    );
  });
});
