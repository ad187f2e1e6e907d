import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { cochranQ } from '../../../../engine/panel/choices/cochran.ts';
import { penaltyAnalysis } from '../../../../engine/panel/choices/just-about-right.ts';
import {
  type Contest,
  pairedStrength,
  strengthDifference,
} from '../../../../engine/panel/choices/paired-strength.ts';
import { expectAllClose, expectClose } from '../mixed/closeness.ts';

const read = (name: string) => JSON.parse(readFileSync(`tests/reference/choices/${name}.json`, 'utf8'));
const r = read('choices');

describe('check all that apply', () => {
  const example = read('cochran_q_cata');

  test('worked example', () => {
    const found = cochranQ(example.matrix);
    expect(found.counts).toEqual(example.column_totals);
    expectClose(found.q, example.Q, 1e-7);
    expectClose(found.p, example.p, 1e-7);
  });

  test('with two mixes Q is the square of McNemar', () => {
    const { onlyA, onlyB, p } = r.mcnemar;
    const rows = [...Array(onlyA).fill([1, 0]), ...Array(onlyB).fill([0, 1]), [1, 1], [0, 0], [0, 0]];
    const found = cochranQ(rows);
    expectClose(found.q, (onlyA - onlyB) ** 2 / (onlyA + onlyB), 1e-12);
    expect(found.telling).toBe(onlyA + onlyB);
    expectClose(found.pairs[0]!.p, p, 1e-12);
  });

  test('tasters who check all or none change nothing', () => {
    const found = cochranQ([...example.matrix, [1, 1, 1, 1], [0, 0, 0, 0]]);
    expectClose(found.q, example.Q, 1e-7);
    expect(
      cochranQ([
        [1, 1],
        [0, 0],
      ]),
    ).toMatchObject({ q: null, p: null, reason: expect.stringContaining('alike') });
    expect(() => cochranQ([[1, 2]])).toThrow(/checked/);
  });
});

describe('just about right', () => {
  test('worked example: drops, costs and the rule of a fifth', () => {
    const example = read('jar_penalty');
    const sides: Record<string, number> = { 'too weak': -1, 'just about right': 0, 'too strong': 2 };
    const answers = example.data.flatMap((d: { level: string; n: number; mean: number }) =>
      Array.from({ length: d.n }, () => ({ side: sides[d.level]!, liking: d.mean })),
    );
    const found = penaltyAnalysis(answers);
    const { result } = example;
    expectClose(found.mean, result.overall_mean, 1e-12);
    for (const [mine, theirs] of [
      [found.tooWeak, result.too_weak],
      [found.tooStrong, result.too_strong],
    ] as const) {
      expectClose(mine.share, theirs.share, 1e-12);
      expectClose(mine.drop, theirs.mean_drop, 1e-12);
      expectClose(mine.cost, theirs.weighted, 1e-12);
      expect(mine.counts).toBe(theirs.counts);
    }
    expectClose(found.off.mean, result.total_penalty_non_JAR.mean, 1e-6);
    expectClose(found.off.drop, result.total_penalty_non_JAR.penalty, 1e-6);
    expectClose(found.right.mean! - found.tooWeak.cost! - found.tooStrong.cost!, found.mean, 1e-12);
  });

  test('interval of a drop as R gives it', () => {
    const { right, weak, interval } = r.welch;
    const found = penaltyAnalysis([
      ...right.map((liking: number) => ({ side: 0, liking })),
      ...weak.map((liking: number) => ({ side: -1, liking })),
    ]);
    expectAllClose(found.tooWeak.interval!, interval, 1e-9);
    expect(found.tooStrong).toMatchObject({
      count: 0,
      mean: null,
      drop: null,
      interval: null,
      counts: false,
    });
  });

  test('nobody right, nobody at all', () => {
    expect(penaltyAnalysis([{ side: 1, liking: 4 }])).toMatchObject({
      right: { mean: null },
      tooStrong: { drop: null },
    });
    expect(() => penaltyAnalysis([])).toThrow(/answers/);
  });
});

describe('paired comparison', () => {
  test('flavour strength of Springall (1973), ties as half wins', () => {
    const example = read('paired_comparison_springall');
    const contests: Contest[] = example.contests.map(
      (c: { row: string; col: string; row_stronger: number; col_stronger: number; tie: number }) => ({
        a: Number(c.row) - 1,
        b: Number(c.col) - 1,
        winsA: c.row_stronger,
        winsB: c.col_stronger,
        ties: c.tie,
      }),
    );
    const found = pairedStrength(contests, 9);
    expectAllClose(found.estimates!, example.abilities_vs_treatment_1.logit, 1e-6, 1e-8);
    example.abilities_vs_treatment_1.se.forEach((se: number, j: number) => {
      expectClose(Math.sqrt(found.covariance![j * 9 + j]!), se, 1e-6);
    });
    expectClose(found.deviance, example.residual_deviance, 1e-7);
    expect(found.df).toBe(example.residual_df);
    const design = example.treatments.map((t: { flav: number; gel: number }) => [
      t.flav,
      t.gel,
      t.flav ** 2,
      t.gel ** 2,
      t.flav * t.gel,
    ]);
    const surface = pairedStrength(contests, 9, design);
    const s = example.response_surface_logit;
    expectAllClose(surface.estimates!, [s.flav, s.gel, s.flav2, s.gel2, s.flav_gel], 1e-5);
    expectClose(surface.deviance, s.residual_deviance, 1e-7);
    expect(surface.df).toBe(s.residual_df);
  });

  const contests: Contest[] = r.paired.a.map((a: number, i: number) => ({
    a,
    b: r.paired.b[i],
    winsA: r.paired.winsA[i],
    winsB: r.paired.trials - r.paired.winsA[i],
  }));

  test("against R's glm", () => {
    const found = pairedStrength(contests, 5);
    expectAllClose(found.estimates!.slice(1), r.paired.estimates, 1e-9);
    expectClose(found.deviance, r.paired.deviance, 1e-9);
    expect(found.df).toBe(r.paired.df);
    for (let i = 0; i < 4; i++)
      for (let j = 0; j < 4; j++)
        expectClose(found.covariance![(i + 1) * 5 + j + 1]!, r.paired.covariance[i][j], 1e-8);
    const slope = pairedStrength(
      contests,
      5,
      r.slope.design.map((v: number) => [v]),
    );
    expectClose(slope.estimates![0]!, r.slope.estimate, 1e-9);
    expectClose(Math.sqrt(slope.covariance![0]!), r.slope.standardError, 1e-8);
  });

  test('which item is the base does not matter to differences', () => {
    const found = pairedStrength(contests, 5);
    const turned = pairedStrength(
      contests.map((c) => ({ ...c, a: 4 - c.a, b: 4 - c.b })),
      5,
    );
    const one = strengthDifference(found, 1, 3);
    const other = strengthDifference(turned, 3, 1);
    expectClose(other.difference, one.difference!, 1e-9);
    expectClose(other.standardError, one.standardError!, 1e-8);
    expectClose(other.p, one.p!, 1e-7);
  });

  test('an item that always won, or never met the others, cannot be placed', () => {
    const sweep = contests.map((c) => (c.a === 0 ? { ...c, winsA: 15, winsB: 0 } : c));
    expect(pairedStrength(sweep, 5)).toMatchObject({ status: 'not-estimable', estimates: null });
    expect(pairedStrength(contests, 6).status).toBe('not-estimable');
    expect(pairedStrength([{ a: 0, b: 1, winsA: 3, winsB: 0 }], 2, [[1], [0]]).status).toBe('not-estimable');
    expect(() => pairedStrength([{ a: 0, b: 0, winsA: 1, winsB: 1 }], 2)).toThrow(/different/);
  });
});
