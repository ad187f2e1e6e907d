import { EngineError } from '../../errors.ts';
import { solveUpper } from '../../numeric/orthogonal.ts';
import { assemble, type Cleared, withoutResidual } from './assemble.ts';
import { bestMinimum } from './best-minimum.ts';
import { type PreparedMixed, prepareMixed } from './prepare.ts';
import { gatherScores } from './products.ts';
import type { MixedFit, MixedProblem } from './types.ts';

/** Scores whose residual sum of squares is below this share of their own are reproduced exactly. */
const NOTHING_LEFT = 1e-24;

/** As many columns as rows. */
const ALL_USED = 'as many unknowns as scores: none is left to tell how far scores vary';

/**
 * Fits y = Xβ + Σ Z_k u_k + e by restricted maximum likelihood. Without random factors this is ordinary least
 * squares. A variance estimated as zero is exactly zero and the fit equals that of the model without it.
 *
 * @param problem scores (n), fixed columns (n × p, row by row, full column rank) and random factors
 * @returns the fit, whose `status` says what could be estimated
 * @throws EngineError where shapes disagree, numbers are not finite or columns are dependent
 *
 * Source: Bates, Maechler, Bolker and Walker 2015, J. Stat. Softw. 67(1) for the criterion; the levels are
 * eliminated in blocks that share no row.
 */
export function fitMixed(problem: MixedProblem): MixedFit {
  return fitPrepared(prepareMixed(problem.fixed, problem.names, problem.random), problem.y);
}

/** `fitMixed` on a design prepared once, for one set of scores without gaps. */
export function fitPrepared(prepared: PreparedMixed, y: Float64Array): MixedFit {
  if (y.length !== prepared.n || !y.every(Number.isFinite))
    throw new EngineError('bad-argument', 'y', y.length, `${prepared.n} finite scores`);
  const cleared = clearFixed(prepared, y);
  if (prepared.n === prepared.p) return withoutResidual(prepared, y, cleared, 'saturated', ALL_USED);
  const scores = gatherScores(prepared.structure, prepared.orthogonal.q, cleared.r);
  if (!(scores.square > NOTHING_LEFT * sumOfSquares(y)))
    return withoutResidual(prepared, y, cleared, 'perfect-fit', 'the fixed part reproduces every score');
  const found = bestMinimum(prepared, scores);
  return assemble(prepared, y, cleared, found);
}

/**
 * y = Xβ + r by ordinary least squares, refined once: the second pass works on what the first left over as measured
 * by X itself, so that a large common level of the scores does not cost digits of the coefficients.
 */
function clearFixed({ fixed, orthogonal: { q, r, n, p } }: PreparedMixed, y: Float64Array): Cleared {
  const beta = new Float64Array(p);
  const left = y.slice();
  for (let pass = 0; pass < 2; pass++) {
    const part = new Float64Array(p);
    for (let i = 0; i < n; i++) for (let j = 0; j < p; j++) part[j]! += q[i * p + j]! * left[i]!;
    solveUpper(r, part).forEach((v, j) => {
      beta[j]! += v;
    });
    for (let i = 0; i < n; i++) {
      let sum = y[i]!;
      for (let j = 0; j < p; j++) sum -= fixed[i * p + j]! * beta[j]!;
      left[i] = sum;
    }
  }
  return { beta, r: left };
}

function sumOfSquares(y: Float64Array): number {
  return y.reduce((sum, v) => sum + v * v, 0);
}
