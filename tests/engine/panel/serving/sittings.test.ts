import fc from 'fast-check';
import { expect, test } from 'vitest';
import { chiSquareUpper } from '../../../../engine/numeric/chi-square.ts';
import { countBalance, leastBalance, selfFollowing } from '../../../../engine/panel/serving/order-balance.ts';
import { type DrawnSittings, drawSittings } from '../../../../engine/panel/serving-orders.ts';

const names = (letter: string, count: number) => Array.from({ length: count }, (_, i) => `${letter}${i + 1}`);
const indices = (drawn: DrawnSittings, mixes: string[]) =>
  drawn.sittings.map((s) => s.cups.map((cup) => mixes.indexOf(cup.mix)));

test('every assessor gets each mix once a replicate, in whole blocks, whatever the sitting holds', () => {
  const cases = fc.record({
    assessors: fc.integer({ min: 1, max: 7 }),
    mixes: fc.integer({ min: 1, max: 8 }),
    perSitting: fc.integer({ min: 1, max: 12 }),
    replicates: fc.integer({ min: 1, max: 3 }),
    seed: fc.integer(),
  });
  fc.assert(
    fc.property(cases, ({ assessors, mixes, perSitting, replicates, seed }) => {
      const ids = names('m', mixes);
      const drawn = drawSittings({
        assessors: names('P', assessors),
        mixes: ids,
        perSitting,
        replicates,
        seed,
      });
      for (const assessor of names('P', assessors)) {
        const mine = drawn.sittings.filter((s) => s.assessor === assessor);
        expect(new Set(mine.map((s) => s.session)).size).toBe(mine.length);
        const cups = mine.flatMap((s) => s.cups);
        expect(cups).toHaveLength(mixes * replicates);
        for (let b = 0; b < replicates; b++)
          expect(new Set(cups.slice(b * mixes, (b + 1) * mixes).map((c) => c.mix)).size).toBe(mixes);
        expect(new Set(cups.map((c) => c.code)).size).toBe(cups.length);
      }
      for (const s of drawn.sittings) {
        expect(s.cups.length).toBeLessThanOrEqual(perSitting);
        expect(s.cups.map((c) => c.position)).toEqual(s.cups.map((_, k) => k + 1));
      }
      expect(drawn.balance).toEqual(countBalance(indices(drawn, ids), mixes));
    }),
    { seed: 4, numRuns: 60 },
  );
});

test('the same seed gives the same bytes, another seed another draw', () => {
  const draw = (seed: number) =>
    JSON.stringify(drawSittings({ assessors: names('P', 6), mixes: names('m', 7), seed, replicates: 2 }));
  expect(draw(5)).toBe(draw(5));
  expect(draw(5)).not.toBe(draw(6));
});

test('one label where a sitting suffices, numbered labels where it does not', () => {
  const input = { assessors: ['P1'], mixes: names('m', 4), session: 'Tuesday', seed: 1 };
  const labels = (more: object) => drawSittings({ ...input, ...more }).sittings.map((s) => s.session);
  expect(labels({})).toEqual(['Tuesday']);
  expect(labels({ perSitting: 8, replicates: 2 })).toEqual(['Tuesday']);
  expect(labels({ replicates: 2 })).toEqual(['Tuesday.1', 'Tuesday.2']);
  expect(labels({ perSitting: 3 })).toEqual(['Tuesday.1', 'Tuesday.2']);
});

test('replicates are poured in another order where there is one', () => {
  const drawn = drawSittings({ assessors: names('P', 6), mixes: names('m', 6), replicates: 3, seed: 2 });
  for (const assessor of names('P', 6)) {
    const orders = drawn.sittings
      .filter((s) => s.assessor === assessor)
      .map((s) => s.cups.map((c) => c.mix).join());
    expect(new Set(orders).size).toBe(3);
  }
});

test.each([
  [6, 3, 6, 1],
  [8, 4, 6, 1],
  [10, 4, 6, 1],
  [5, 3, 10, 1],
  [7, 4, 6, 2],
  [4, 9, 6, 3],
  [2, 4, 6, 2],
])(
  '%i mixes, %i a sitting, %i assessors, %i replicates: as fair as counting allows',
  (m, most, n, replicates) => {
    const ids = names('m', m);
    const drawn = drawSittings({
      assessors: names('P', n),
      mixes: ids,
      perSitting: most,
      replicates,
      seed: 1,
    });
    const least = leastBalance(
      drawn.sittings.map((s) => s.cups.length),
      m,
    );
    expect(drawn.balance).toEqual(least);
    expect(selfFollowing(indices(drawn, ids))).toBe(0);
  },
);

test('in cut blocks every two mixes keep each other company about equally often (after ISO 29842)', () => {
  const drawn = drawSittings({ assessors: names('P', 12), mixes: names('m', 6), perSitting: 3, seed: 1 });
  const together = new Map<string, number>();
  for (const s of drawn.sittings)
    for (const a of s.cups)
      for (const b of s.cups)
        if (a.mix < b.mix) together.set(a.mix + b.mix, (together.get(a.mix + b.mix) ?? 0) + 1);
  expect(together.size).toBe(15);
  const counts = [...together.values()];
  expect(Math.max(...counts) - Math.min(...counts)).toBeLessThanOrEqual(3);
});

test('assessors who did not come are made up for by the orders of those still to serve', () => {
  const mixes = names('m', 4);
  const first = drawSittings({ assessors: names('P', 8), mixes, seed: 3 });
  const served = first.sittings.slice(0, 5).map((s) => s.cups.map((c) => c.mix));
  const rest = drawSittings({ assessors: ['P6', 'P7', 'P8'], mixes, served, seed: 4 });
  expect(rest.balance).toEqual({ positionSpread: 0, followSpread: 0 });
});

test('neither codes nor their order show any association with the mix over 1,000 seeds', () => {
  const mixes = names('m', 4);
  const digit = Array.from({ length: 10 }, () => new Array<number>(4).fill(0));
  const rank = Array.from({ length: 4 }, () => new Array<number>(4).fill(0));
  const place = Array.from({ length: 4 }, () => new Array<number>(4).fill(0));
  for (let seed = 1; seed <= 1000; seed++)
    for (const { cups } of drawSittings({ assessors: ['P1', 'P2', 'P3'], mixes, seed }).sittings) {
      const sorted = cups.map((c) => c.code).sort();
      cups.forEach((cup, k) => {
        const mix = mixes.indexOf(cup.mix);
        digit[Number(cup.code[0])]![mix]!++;
        rank[sorted.indexOf(cup.code)]![mix]!++;
        if (k === 0) place[k]![mix]!++;
      });
    }
  const tables = { digit: digit.slice(2), rank, first: place.slice(0, 1) };
  for (const [name, table] of Object.entries(tables)) {
    const p = independence(table);
    console.log(`mix against ${name}: p = ${p.toFixed(3)}`);
    expect(p).toBeGreaterThan(0.001);
  }
});

/** Pearson's chi-square for a table; a single row is compared with equal shares. */
function independence(table: number[][]): number {
  const rows = table.map((row) => row.reduce((a, b) => a + b, 0));
  const columns = table[0]!.map((_, j) => table.reduce((sum, row) => sum + row[j]!, 0));
  const total = rows.reduce((a, b) => a + b, 0);
  const expected = (i: number, j: number) =>
    table.length === 1 ? total / columns.length : (rows[i]! * columns[j]!) / total;
  let sum = 0;
  table.forEach((row, i) => {
    row.forEach((n, j) => {
      sum += (n - expected(i, j)) ** 2 / expected(i, j);
    });
  });
  return chiSquareUpper(sum, Math.max(1, table.length - 1) * (columns.length - 1));
}

test('misuse is refused by name', () => {
  const ok = { assessors: ['P1'], mixes: ['m1', 'm2'], seed: 1 };
  expect(() => drawSittings({ ...ok, assessors: [] })).toThrow(/assessors/);
  expect(() => drawSittings({ ...ok, mixes: ['m1', 'm1'] })).toThrow(/mixes: found "m1"/);
  expect(() => drawSittings({ ...ok, perSitting: 0 })).toThrow(/perSitting/);
  expect(() => drawSittings({ ...ok, replicates: 1.5 })).toThrow(/replicates/);
  expect(() => drawSittings({ ...ok, served: [['m3']] })).toThrow(/served: found "m3"/);
});
