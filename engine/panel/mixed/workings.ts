import type { Reduction } from './reduction.ts';

/**
 * All that derivatives, tests and predictions need at given variance ratios. P is the projection of the restricted
 * likelihood, P = V⁻¹ - V⁻¹Q(Q'V⁻¹Q)⁻¹Q'V⁻¹; with the local V_L it reads P = V_L⁻¹ - V_L⁻¹[Z_G Q] K [Z_G Q]'V_L⁻¹.
 * `width` is the number of border columns, K factors in all; pairs (k, l) are stored at k·K + l.
 */
export interface Workings {
  reduction: Reduction;
  width: number;
  /** K, width × width; its lower right p × p block is (Q'V⁻¹Q)⁻¹. */
  inverse: Float64Array;
  /** The columns of J = I - K S that belong to global levels, width × globals. */
  reach: Float64Array;
  /** K [Z_G Q]'V_L⁻¹r: the last p entries are the coefficients of Q. */
  coefficients: Float64Array;
  /** Z'P r by position. */
  scores: Float64Array;
  /** U = Z_L'V_L⁻¹[Z_G Q] by type row. */
  borders: Float64Array;
  /** The same columns of N = S J: the block of global levels is Z_G'P Z_G. */
  globalSquares: Float64Array;
  /** U_k'U_k and Σ_b U_bk'M_bkl U_bl, M_b = Z_b'V_L⁻¹Z_b, of the local factors (empty for global ones). */
  grams: Float64Array[];
  middles: Float64Array[];
  /** tr Z_k'P Z_k. */
  traces: Float64Array;
  /** ‖Z_k'P Z_l‖². */
  squares: Float64Array;
  /** r'P Z_k Z_k'P Z_l Z_l'P r. */
  forms: Float64Array;
  /** U_k'Z_k'P r of the local factors (empty for global ones). */
  pulls: Float64Array[];
  /** ‖Z_k'P r‖². */
  lengths: Float64Array;
}
