import { multiply, solveLower, solveLowerTransposed } from '../../numeric/dense.ts';
import { fixedColumns, fixedInformationTimes } from './fixed-block.ts';
import type { Information } from './information.ts';
import type { EffectWeights, MixedFit } from './types.ts';

/** What weightings z of random effects bring into prediction variances; all over σ². */
export interface EffectCovariance {
  /** z'Λ(ΛZ'ZΛ+I)⁻¹Λz' between every two weightings. */
  between: Float64Array;
  /** Q'V⁻¹ZΛ²z of each weighting, p entries. */
  shifts: Float64Array[];
  /** ‖a_k‖²/τ_k² for each nonzero factor, a = Λ(ΛZ'ZΛ+I)⁻¹Λz. */
  lengths: Float64Array[];
  /** (Q'V⁻¹Q)⁻¹Q'V⁻¹Z_k a_k/τ_k for each nonzero factor, p entries. */
  crossed: Float64Array[][];
}

/** Solves for each weighting once, block by block. */
export function effectCovariance(
  fit: MixedFit,
  info: Information,
  weightings: readonly EffectWeights[],
): EffectCovariance {
  const scaled = weightings.map((z) => scaledWeights(fit, info, z));
  const solved = scaled.map((z) => solveAll(fit, info, z));
  const columns = levelColumns(fit, info);
  return {
    between: Float64Array.from({ length: scaled.length ** 2 }, (_, at) => {
      const [i, j] = [Math.floor(at / scaled.length), at % scaled.length];
      return scaled[i]!.reduce((sum, v, position) => sum + (v === 0 ? 0 : v * solved[j]![position]!), 0);
    }),
    shifts: scaled.map((z) => shiftOf(fit, info, columns, z)),
    lengths: solved.map((a) => lengthsOf(fit, info, a)),
    crossed: solved.map((a) => crossedOf(fit, info, columns, a)),
  };
}

/** Λz by position; weights of factors without a variance fall away. */
function scaledWeights(fit: MixedFit, info: Information, weights: EffectWeights): Float64Array {
  const { structure } = fit.prepared;
  const { root } = info.workings.reduction;
  const out = new Float64Array(structure.factorAt.length);
  for (const { factor, level, weight } of weights) {
    const k = structure.factors.findIndex((f) => f.name === factor);
    if (k < 0) continue;
    const position = structure.place[k]![level]!;
    out[position]! += root[k]! * weight;
  }
  return out;
}

/** (ΛZ'ZΛ+I)⁻¹ b, local levels eliminated first. */
function solveAll(fit: MixedFit, info: Information, right: Float64Array): Float64Array {
  const { structure: s } = fit.prepared;
  const { typeRow } = fit.prepared.products;
  const { reduction, width } = info.workings;
  const local = right.slice(0, s.locals);
  eachBlock(fit, (triangle, start) => solveLower({ l: reduction.factor, ...triangle }, local, 1, start));
  const global = right.slice(s.locals);
  for (let i = 0; i < s.locals; i++)
    for (let c = 0; c < s.globals; c++)
      global[c]! -= reduction.borderRoot[c]! * reduction.half[typeRow[i]! * width + c]! * local[i]!;
  solveGlobal(reduction.borderFactor, width, global);
  for (let i = 0; i < s.locals; i++)
    for (let c = 0; c < s.globals; c++)
      local[i]! -= reduction.half[typeRow[i]! * width + c]! * reduction.borderRoot[c]! * global[c]!;
  eachBlock(fit, (triangle, start) =>
    solveLowerTransposed({ l: reduction.factor, ...triangle }, local, 1, start),
  );
  const out = new Float64Array(right.length);
  out.set(local);
  out.set(global, s.locals);
  return out;
}

/** The upper left of the border's factor is that of the global levels alone. */
function solveGlobal(borderFactor: Float64Array, width: number, right: Float64Array): void {
  const n = right.length;
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) for (let j = 0; j <= i; j++) l[i * n + j] = borderFactor[i * width + j]!;
  solveLower({ l, n, at: 0 }, right, 1);
  solveLowerTransposed({ l, n, at: 0 }, right, 1);
}

function eachBlock(
  { prepared: { structure, products } }: MixedFit,
  act: (triangle: { n: number; at: number }, start: number) => void,
): void {
  products.typeOf.forEach((t, b) => {
    const start = structure.blockStart[b]!;
    act({ n: structure.blockStart[b + 1]! - start, at: products.squareStart[t]! }, start);
  });
}

/** Z'V⁻¹Q(Q'V⁻¹Q)⁻¹ by position, p entries each. */
function levelColumns(fit: MixedFit, info: Information): Float64Array {
  const { structure: s } = fit.prepared;
  const w = info.workings;
  const columns = fixedColumns(w, info.p);
  const out = new Float64Array(s.factorAt.length * info.p);
  const local = multiply(w.borders, columns, w.width);
  fit.prepared.products.typeRow.forEach((row, position) => {
    out.set(local.subarray(row * info.p, (row + 1) * info.p), position * info.p);
  });
  const global = multiply(w.reduction.corner, columns, w.width);
  out.set(global.subarray(0, s.globals * info.p), s.locals * info.p);
  return out;
}

/** Q'V⁻¹ZΛ(Λz); the level columns hold (Q'V⁻¹Q)⁻¹ times that. */
function shiftOf(
  fit: MixedFit,
  info: Information,
  columns: Float64Array,
  scaled: Float64Array,
): Float64Array {
  const { factorAt } = fit.prepared.structure;
  const { root } = info.workings.reduction;
  const out = new Float64Array(info.p);
  scaled.forEach((v, position) => {
    if (v === 0) return;
    for (let c = 0; c < info.p; c++)
      out[c]! += root[factorAt[position]!]! * v * columns[position * info.p + c]!;
  });
  return fixedInformationTimes(info.workings, out);
}

/** Σ (Λ x)²/τ² over the levels of each nonzero factor, x = (ΛZ'ZΛ+I)⁻¹Λz. */
function lengthsOf(fit: MixedFit, info: Information, solved: Float64Array): Float64Array {
  const { factorAt } = fit.prepared.structure;
  const { tau } = info.workings.reduction;
  const out = new Float64Array(info.active.length);
  solved.forEach((v, position) => {
    const i = info.active.indexOf(factorAt[position]!);
    if (i >= 0) out[i]! += (v * v) / tau[factorAt[position]!]!;
  });
  return out;
}

function crossedOf(
  fit: MixedFit,
  info: Information,
  columns: Float64Array,
  solved: Float64Array,
): Float64Array[] {
  const { factorAt } = fit.prepared.structure;
  const { root } = info.workings.reduction;
  const out = info.active.map(() => new Float64Array(info.p));
  solved.forEach((v, position) => {
    const i = info.active.indexOf(factorAt[position]!);
    if (i < 0 || v === 0) return;
    for (let c = 0; c < info.p; c++)
      out[i]![c]! += (v / root[factorAt[position]!]!) * columns[position * info.p + c]!;
  });
  return out;
}
