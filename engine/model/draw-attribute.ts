import { chiSquareQuantile } from '../numeric/chi-square.ts';
import type { Random } from '../numeric/random.ts';
import type { AttributePosterior } from './attribute-posterior.ts';
import type { PointTable } from './point-table.ts';
import { FEATURES } from './smooth-deviations.ts';
import type { SurfacePosterior } from './surface-posterior.ts';
import type { TiedNormals } from './tied-normals.ts';

/** From here on Student's t is drawn as the normal. */
const MANY = 1e4;

export interface DrawPlan {
  table: PointTable;
  /** points × FEATURES. */
  features: Float64Array;
  normals: TiedNormals;
  /** Place of this attribute among all, and their number. */
  attribute: number;
  attributes: number;
  count: number;
  random: Random;
}

export interface AttributeDraws {
  /** By draw · points + point. */
  scores: Float64Array;
  reference: Float64Array | null;
}

/**
 * Draws one attribute: the basis of the draw's model, from the multivariate t with that model's degrees of freedom,
 * then every point as a combination of it.
 */
export function drawAttribute(posterior: AttributePosterior, plan: DrawPlan): AttributeDraws {
  if (posterior.parts.length === 0) return drawIgnorance(posterior, plan);
  const { count, table, random } = plan;
  const partOf = allocate(posterior, count, random.fork('models'));
  const scores = new Float64Array(count * table.count);
  const hasReference = posterior.parts.every(({ posterior: p }) => p.basis.reference >= 0);
  const reference = hasReference ? new Float64Array(count) : null;
  const stretch = random.fork('spread');
  const uniforms = Float64Array.from({ length: count }, () => stretch.uniform());
  posterior.parts.forEach(({ posterior: part }, k) => {
    const draws = [...partOf.keys()].filter((d) => partOf[d] === k);
    drawPart(part, plan, { draws, uniforms, scores, reference });
  });
  return { scores, reference };
}

/** Each model gets its share of the draws, to the nearest whole number, in random order. */
function allocate({ parts }: AttributePosterior, count: number, random: Random): number[] {
  const start = random.uniform();
  const ends = parts.map((_, k) => parts.slice(0, k + 1).reduce((sum, { weight }) => sum + weight, 0));
  const inOrder = Array.from({ length: count }, (_, d) => {
    const k = ends.findIndex((end) => (d + start) / count < end);
    return k < 0 ? parts.length - 1 : k;
  });
  return random.shuffle(inOrder);
}

interface PartDraws {
  draws: readonly number[];
  uniforms: Float64Array;
  scores: Float64Array;
  reference: Float64Array | null;
}

function drawPart(
  part: SurfacePosterior,
  plan: DrawPlan,
  { draws, uniforms, scores, reference }: PartDraws,
): void {
  const { basis, surface, df } = part;
  const { table, attribute, attributes, normals } = plan;
  const tastedAs = table.tastedAs(surface.tasted.mixes);
  const layout = layoutOf(part, plan);
  const basisNormals = basis.keys.map((key) => normals.of(key));
  const featureNormals = Array.from({ length: layout.features }, (_, f) => normals.of(`(deviation ${f})`));
  const weights = new Float64Array(layout.width);
  const others = part.others > 0 ? normals.of('(others)') : null;
  for (const d of draws) {
    const stretch = df < MANY ? Math.sqrt(df / chiSquareQuantile(uniforms[d]!, df)) : 1;
    const value = drawBasis(basis, (b) => stretch * basisNormals[b]![d * attributes + attribute]!);
    weights.set(value.subarray(0, basis.terms));
    if (others) value[basis.panel]! += stretch * Math.sqrt(part.others) * others[d * attributes + attribute]!;
    for (let f = 0; f < layout.features; f++)
      weights[basis.terms + f] =
        stretch * Math.sqrt(basis.elsewhere) * featureNormals[f]![d * attributes + attribute]!;
    const out = scores.subarray(d * table.count, (d + 1) * table.count);
    combine(layout, weights, value[basis.panel]!, out);
    tastedAs.forEach((mix, i) => {
      const own = mix < 0 ? -1 : basis.mixes[mix]!;
      if (own >= 0) out[i] = atTastedMix(layout, weights, basis, i) + value[basis.panel]! + value[own]!;
    });
    if (reference) reference[d] = value[basis.reference]! + value[basis.panel]!;
  }
}

/** Rows of what multiplies the drawn numbers: terms, then features of the deviation where there is one. */
interface Layout {
  rows: Float64Array;
  width: number;
  features: number;
}

function layoutOf({ basis, surface }: SurfacePosterior, { table, features }: DrawPlan): Layout {
  const terms = table.rows(surface.set);
  if (!(basis.elsewhere > 0)) return { rows: terms, width: basis.terms, features: 0 };
  const width = basis.terms + FEATURES;
  const rows = new Float64Array(table.count * width);
  for (let i = 0; i < table.count; i++) {
    rows.set(terms.subarray(i * basis.terms, (i + 1) * basis.terms), i * width);
    rows.set(features.subarray(i * FEATURES, (i + 1) * FEATURES), i * width + basis.terms);
  }
  return { rows, width, features: FEATURES };
}

function drawBasis(
  { mean, root }: SurfacePosterior['basis'],
  normal: (quantity: number) => number,
): Float64Array {
  const n = mean.length;
  const z = Float64Array.from(mean, (_, b) => normal(b));
  return Float64Array.from(mean, (start, i) => {
    let sum = start;
    for (let j = i; j < n; j++) sum += root[i * n + j]! * z[j]!;
    return sum;
  });
}

/** out = rows · weights + level. The hot loop: two sums at a time, so that one waits less for the other. */
function combine({ rows, width }: Layout, weights: Float64Array, level: number, out: Float64Array): void {
  const even = width - (width % 2);
  for (let i = 0, at = 0; i < out.length; i++, at += width) {
    let [a, b] = [level, 0];
    for (let j = 0; j < even; j += 2) {
      a += rows[at + j]! * weights[j]!;
      b += rows[at + j + 1]! * weights[j + 1]!;
    }
    if (even < width) a += rows[at + even]! * weights[even]!;
    out[i] = a + b;
  }
}

/** At a tasted mix only the misfit's part of the deviation is unknown. */
function atTastedMix(
  { rows, width }: Layout,
  weights: Float64Array,
  { terms, misfit, elsewhere }: SurfacePosterior['basis'],
  point: number,
): number {
  const part = elsewhere > 0 ? Math.sqrt(misfit / elsewhere) : 0;
  let [sum, deviation] = [0, 0];
  for (let j = 0; j < terms; j++) sum += rows[point * width + j]! * weights[j]!;
  for (let j = terms; j < width; j++) deviation += rows[point * width + j]! * weights[j]!;
  return sum + part * deviation;
}

/** Nothing is known but where scores can lie: one uniform number a draw, the same at every point. */
function drawIgnorance({ instead }: AttributePosterior, { table, count, random }: DrawPlan): AttributeDraws {
  const scores = new Float64Array(count * table.count);
  for (let d = 0; d < count; d++)
    scores.fill(
      instead.low + (instead.high - instead.low) * random.uniform(),
      d * table.count,
      (d + 1) * table.count,
    );
  return { scores, reference: null };
}
