import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { startsOf } from '../../../engine/design/plan-mixes.ts';
import { prepareProblem } from '../../../engine/design/plan-problem.ts';
import { planStart } from '../../../engine/design/plan-start.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import { loadTestSolver, simplex } from '../region/spaces.ts';
import { form, invert, rejectionSampler } from './independent.ts';

const solver = await loadTestSolver();
const checks = JSON.parse(
  readFileSync(new URL('../../reference/design/design-checks.json', import.meta.url), 'utf8'),
);

const MODELS = [
  ['q3_quadratic', 3, 'quadratic'],
  ['q4_quadratic', 4, 'quadratic'],
  ['q3_special_cubic', 3, 'special-cubic'],
] as const;

function search(q: number, model: 'quadratic' | 'special-cubic' | 'linear', mixes: number, seed: number) {
  const input = {
    ...{ space: simplex(q), batch: { grams: 10, readability: 0.01 }, mixes, model, seed },
    criterion: 'determinant' as const,
  };
  const problem = prepareProblem({ ...input, starts: 4 }, { solver });
  const results = Array.from({ length: startsOf(problem) }, (_, k) => planStart(problem, k));
  const best = results.reduce((a, b) => (b.score < a.score ? b : a));
  return { logDet: problem.space.logDetMoments - best.score, spots: best.spots, scores: results, problem };
}

describe('D-optimal designs on the whole simplex, found from random starts (Kiefer 1961)', () => {
  for (const [key, q, model] of MODELS)
    it(`${model}, ${q} components: determinant of the published lattice to 1e-6`, () => {
      const known = checks.D_optimality[key];
      for (const seed of [1, 2, 3]) {
        const { logDet, spots } = search(q, model, known.p, seed);
        expect(Math.abs(Math.exp(logDet) / known.det_XtX - 1)).toBeLessThan(1e-6);
        const sorted = spots.map(({ shares }) => shares.map((v) => v.toFixed(4)).join()).sort();
        const expected = (known.points as number[][]).map((p) => p.map((v) => v.toFixed(4)).join()).sort();
        expect(sorted.map((s) => s.replaceAll('0.3334', '0.3333'))).toEqual(expected);
      }
    });

  it('linear, any number of components: the pure components in turn, as evenly as can be', () => {
    const { spots } = search(5, 'linear', 12, 1);
    const counts = [0, 1, 2, 3, 4].map((i) => spots.filter(({ shares }) => shares[i]! > 1 - 1e-9).length);
    expect(counts.sort()).toEqual([2, 2, 2, 3, 3]);
  });
});

/** Products of two shares and the shares themselves, written out apart from the engine. */
function quadraticTerms(x: readonly number[]): number[] {
  return [...x, ...x.flatMap((a, i) => x.slice(i + 1).map((b) => a * b))];
}

describe('equivalence theorem (Kiefer and Wolfowitz 1960): a check that needs no table', () => {
  it('the largest scaled variance of the found design is the number of terms, nowhere exceeded', () => {
    for (const q of [3, 4, 5]) {
      const p = (q * (q + 1)) / 2;
      const { spots } = search(q, 'quadratic', p, 7);
      const rows = spots.map(({ shares }) => quadraticTerms(shares));
      const { inverse } = invert(
        rows[0]!.map((_, i) => rows[0]!.map((__, j) => rows.reduce((sum, f) => sum + f[i]! * f[j]!, 0) / p)),
      );
      const random = createRandom(5, 'simplex');
      const draw = rejectionSampler(simplex(q), () => random.uniform());
      let most = 0;
      for (let k = 0; k < 20_000; k++) most = Math.max(most, form(quadraticTerms(draw()), inverse));
      for (const f of rows) expect(Math.abs(form(f, inverse) - p)).toBeLessThan(1e-6);
      expect(most).toBeLessThanOrEqual(p * (1 + 1e-9));
      expect(most).toBeGreaterThan(0.7 * p);
    }
  });
});
