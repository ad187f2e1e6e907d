import { completeWorkings } from './complete-workings.ts';
import type { Expansion } from './minimise.ts';
import type { PreparedMixed } from './prepare.ts';
import type { ScoreProducts } from './products.ts';
import { type Reduction, reduceAt } from './reduction.ts';
import type { Workings } from './workings.ts';

/**
 * The restricted maximum likelihood criterion (-2 log restricted likelihood, as lme4 defines it) with β and σ²
 * profiled out, at an eliminated model: log det V + log det X'V⁻¹X + (n-p)(1 + log(2π r'Pr/(n-p))).
 * Source: Bates, Maechler, Bolker and Walker 2015, J. Stat. Softw. 67(1), equation 42.
 */
export function criterionOf(
  prepared: PreparedMixed,
  reduction: Reduction,
  square = reduction.square,
): number {
  const df = prepared.n - prepared.p;
  return (
    reduction.logDet + 2 * prepared.orthogonal.logDetR + df * (1 + Math.log((2 * Math.PI * square) / df))
  );
}

export type CriterionExpansion = Expansion & { workings: Workings };

/**
 * The profiled criterion with its first and second derivatives in the variance ratios τ:
 * g_k = tr Z_k'PZ_k - (n-p)‖Z_k'Pr‖²/r'Pr, and one more differentiation; `expected` is the information about τ
 * once σ² is eliminated. From ∂P/∂τ_k = -P Z_k Z_k'P (Harville 1977, J. Am. Stat. Assoc. 72, 320-338).
 */
export function expandCriterion(
  prepared: PreparedMixed,
  scores: ScoreProducts,
  tau: Float64Array,
): CriterionExpansion | null {
  const reduction = reduceAt(prepared.structure, prepared.products, scores, tau);
  if (!reduction || !(reduction.square > 0)) return null;
  const w = completeWorkings(prepared.structure, prepared.products, scores, reduction);
  const count = tau.length;
  const df = prepared.n - prepared.p;
  const s = reduction.square;
  const gradient = tau.map((_, k) => w.traces[k]! - (df * w.lengths[k]!) / s);
  const hessian = new Float64Array(count * count);
  const expected = new Float64Array(count * count);
  for (let k = 0; k < count; k++)
    for (let l = 0; l < count; l++) {
      const at = k * count + l;
      hessian[at] =
        -w.squares[at]! + df * ((2 * w.forms[at]!) / s - ((w.lengths[k]! / s) * w.lengths[l]!) / s);
      expected[at] = w.squares[at]! - (w.traces[k]! * w.traces[l]!) / df;
    }
  return { value: criterionOf(prepared, reduction), gradient, hessian, expected, workings: w };
}
