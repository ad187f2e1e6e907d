import { joinColumns } from '../panel/mix-columns.ts';
import { fitMixed } from '../panel/mixed/fit.ts';
import { independentColumns } from '../panel/mixed/independent-columns.ts';
import type { MixedFit, RandomFactor } from '../panel/mixed/types.ts';
import { REFERENCE } from '../panel/observations.ts';
import {
  ASSESSOR,
  ASSESSOR_BY_MIX,
  ASSESSOR_BY_SESSION,
  type RandomPart,
  randomPartOf,
} from '../panel/random-effects.ts';
import type { Tasted } from './tasted.ts';
import type { TermSet } from './term-set.ts';

/**
 * A model of the scores over the ratios: the first columns are the terms, the next the reference's indicator, the
 * rest what stands beside them.
 */
export interface Surface {
  set: TermSet;
  tasted: Tasted;
  fit: MixedFit;
  random: RandomPart;
  /** Terms at each tasted mix, mixes × terms. */
  rows: Float64Array;
  hasReference: boolean;
}

/** A surface, or why there is none. */
export type SurfaceOutcome = { surface: Surface; reason: null } | { surface: null; reason: string };

/**
 * Fits the terms on as-weighed ratios with the panel's random effects. Reference cups take part through an
 * indicator of their own: they inform assessors and sessions, not the terms.
 *
 * @param withDeviations adds a random deviation of each mix from the surface: lack of fit as a variance
 */
export function fitSurface(tasted: Tasted, set: TermSet, withDeviations = false): SurfaceOutcome {
  const p = set.names.length;
  const rows = termRows(set, tasted);
  if (tasted.mixes.length < p)
    return no(
      `${tasted.mixes.length} mixes were scored and the ${set.model} model has ${p} terms: at least ${p} different mixes are needed`,
    );
  const kept = independentColumns(rows, p);
  if (kept.length < p) return no(undistinguished(set, kept));
  const random = randomPartOf(tasted.cups);
  const factors = withDeviations ? [...random.factors, deviations(tasted)] : random.factors;
  const hasReference = tasted.reference >= 0;
  const fit = fitMixed({
    y: tasted.cups.y,
    fixed: joinColumns(fixedColumns(tasted, rows, p), tasted.cups.beside, tasted.cups.y.length),
    names: [...set.names, ...(hasReference ? [REFERENCE] : []), ...(tasted.cups.beside?.names ?? [])],
    random: factors.map((factor) => withSpareLevels(factor, tasted)),
  });
  return { surface: { set, tasted, fit, random, rows, hasReference }, reason: null };
}

/** The value of the surface's terms at a point, padded with zeros: one weight a coefficient. */
export function termRow(surface: Surface, shares: ArrayLike<number>, coded: ArrayLike<number>): Float64Array {
  const out = new Float64Array(surface.fit.p);
  surface.set.evaluate(shares, coded, out.subarray(0, surface.set.names.length));
  return out;
}

/** Terms at each tasted mix, mixes × terms. */
export function termRows(set: TermSet, { mixes }: Pick<Tasted, 'mixes'>): Float64Array {
  const p = set.names.length;
  const out = new Float64Array(mixes.length * p);
  mixes.forEach(({ shares, coded }, m) => {
    set.evaluate(shares, coded, out.subarray(m * p, (m + 1) * p));
  });
  return out;
}

/** The deviation of each mix's true mean from the surface. */
export const DEVIATION = 'deviation';

function deviations({ cups }: Tasted): RandomFactor {
  return { name: DEVIATION, levels: cups.mixOf, count: cups.mixes.length };
}

/**
 * Levels that no cup has, behind those that cups have: other assessors, this panel at an untasted ratio, an
 * untasted ratio. They change no estimate; predictions beyond what was tasted weigh them.
 */
function withSpareLevels(factor: RandomFactor, { cups }: Tasted): RandomFactor {
  const assessors = cups.assessors.length;
  const own = [ASSESSOR, ASSESSOR_BY_MIX, ASSESSOR_BY_SESSION].includes(factor.name);
  const spare = own ? assessors : 1;
  return { ...factor, count: factor.count + spare };
}

function no(reason: string): SurfaceOutcome {
  return { surface: null, reason };
}

function undistinguished({ names, model }: TermSet, kept: readonly number[]): string {
  const lost = names.filter((_, j) => !kept.includes(j));
  return `the mixes tasted cannot tell ${lost.join(', ')} from the other terms of the ${model} model`;
}

function fixedColumns({ cups, reference }: Tasted, rows: Float64Array, p: number): Float64Array {
  const width = p + Number(reference >= 0);
  const out = new Float64Array(cups.y.length * width);
  cups.mixOf.forEach((mix, i) => {
    if (mix === reference) out[i * width + p] = 1;
    else out.set(rows.subarray(mix * p, (mix + 1) * p), i * width);
  });
  return out;
}
