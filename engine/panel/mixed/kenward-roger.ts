import {
  bilinear,
  inverseOfPositive,
  multiply,
  multiplyTransposed,
  symmetrise,
} from '../../numeric/dense.ts';
import { columnsOf, rowsOf } from './border-shares.ts';
import { fixedColumns } from './fixed-block.ts';
import type { Information } from './information.ts';
import type { MixedFit } from './types.ts';

/** What Kenward and Roger's method adds to the information; in units of the residual variance. */
export interface Adjustment {
  /** Adjusted covariance of the coefficients of Q, p × p. */
  covariance: Float64Array;
  /** Inverse of tr(P G_i P G_j). */
  expectedInverse: Float64Array;
}

export interface ScaledTest {
  denDf: number;
  /** What F is multiplied by before it is read against F(q, denDf). */
  scale: number;
}

const known = new WeakMap<Information, Adjustment>();

/**
 * The covariance of the coefficients adjusted for the estimation of the variances: Φ + 2 Φ Σ W_ij (Q_ij - P_i Φ P_j) Φ
 * with W twice the inverse of tr(P G_i P G_j) (Kenward and Roger 1997, Biometrics 53, 983-997; as in Halekoh and
 * Højsgaard 2014, J. Stat. Softw. 59(9)). With P the projection, Q_ij - P_i Φ P_j is X'V⁻¹G_i P G_j V⁻¹X, which
 * needs no subtraction. Null where the expected information is singular.
 */
export function adjustmentOf(fit: MixedFit, info: Information): Adjustment | null {
  const stored = known.get(info);
  if (stored) return stored;
  const m = info.active.length + 1;
  const expectedInverse = inverseOfPositive(info.expected, m, 1e-12);
  if (!expectedInverse) return null;
  const { tau } = info.workings.reduction;
  const covariance = info.unit.slice();
  const at = (i: number, j: number) => expectedInverse[i * m + j]!;
  info.active.forEach((k, i) => {
    info.active.forEach((l, j) => {
      const weight =
        at(i, j) - tau[k]! * at(m - 1, j) - at(i, m - 1) * tau[l]! + at(m - 1, m - 1) * tau[k]! * tau[l]!;
      sandwich(fit, info, k, l).forEach((v, c) => {
        covariance[c]! += 4 * weight * v;
      });
    });
  });
  const made = { covariance: symmetrise(covariance, info.p), expectedInverse };
  known.set(info, made);
  return made;
}

/** (Q'V⁻¹Q)⁻¹ Q'V⁻¹Z_k (Z_k'P Z_l) Z_l'V⁻¹Q (Q'V⁻¹Q)⁻¹. */
function sandwich(fit: MixedFit, info: Information, k: number, l: number): Float64Array {
  const { structure } = fit.prepared;
  const w = info.workings;
  const columns = fixedColumns(w, fit.p);
  const seen = (f: number) => rowsOf(structure, w, multiply(w.reduction.corner, columns, w.width), f);
  if (structure.isGlobal[k] && structure.isGlobal[l]) {
    const block = columnsOf(structure, w, w.globalSquares, l);
    const between = multiply(rowsOf(structure, w, block.values, k), seen(l), structure.factors[l]!.count);
    return multiplyTransposed(seen(k), between, structure.factors[k]!.count);
  }
  if (structure.isGlobal[k]) return transpose(sandwich(fit, info, l, k), fit.p);
  if (structure.isGlobal[l]) {
    const reach = multiply(columnsOf(structure, w, w.reach, l).values, seen(l), structure.factors[l]!.count);
    return multiplyTransposed(columns, multiply(w.grams[k]!, reach, w.width), w.width);
  }
  const middle = w.middles[k * structure.factors.length + l]!.slice();
  multiply(multiply(w.grams[k]!, w.inverse, w.width), w.grams[l]!, w.width).forEach((v, c) => {
    middle[c]! -= v;
  });
  return multiplyTransposed(columns, multiply(middle, columns, w.width), w.width);
}

function transpose(a: Float64Array, n: number): Float64Array {
  return a.map((_, at) => a[(at % n) * n + Math.floor(at / n)]!);
}

/**
 * Kenward and Roger's denominator degrees of freedom and scale for q combinations of the coefficients of Q, given
 * row by row and standardised so that their unadjusted covariance over σ² is the identity.
 */
export function kenwardRogerTest(
  info: Information,
  adjustment: Adjustment,
  rows: Float64Array[],
): ScaledTest {
  const q = rows.length;
  const m = info.slopes.length;
  const forms = info.slopes.map((slope) =>
    Float64Array.from({ length: q * q }, (_, at) =>
      bilinear(rows[Math.floor(at / q)]!, slope, rows[at % q]!),
    ),
  );
  const traces = forms.map((f) => rows.reduce((sum, _, i) => sum + f[i * q + i]!, 0));
  let a1 = 0;
  let a2 = 0;
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++) {
      const weight = 2 * adjustment.expectedInverse[i * m + j]!;
      a1 += weight * traces[i]! * traces[j]!;
      a2 += weight * forms[i]!.reduce((sum, v, at) => sum + v * forms[j]![at]!, 0);
    }
  return matchMoments(q, a1, a2);
}

/** F's denominator and scale from the two moments (Kenward and Roger 1997, section 3). */
function matchMoments(q: number, a1: number, a2: number): ScaledTest {
  const b = (a1 + 6 * a2) / (2 * q);
  const g = ((q + 1) * a1 - (q + 4) * a2) / ((q + 2) * a2);
  const below = 3 * q + 2 * (1 - g);
  const v0 = 1 + (g / below) * b;
  const v1 = 1 - ((q - g) / below) * b;
  const v2 = 1 - ((q + 2 - g) / below) * b;
  const mean = 1 - a2 / q;
  const ratio = Math.abs(mean) < 1e-14 && Math.abs(v1) < 1e-14 ? 1 : mean / v1;
  const rho = (ratio * ratio * (Math.abs(v0) < 1e-10 ? 0 : v0)) / v2 / q;
  const denDf = 4 + (q + 2) / (q * rho - 1);
  return { denDf, scale: Math.abs(denDf - 2) < 0.01 ? 1 : (denDf * mean) / (denDf - 2) };
}
