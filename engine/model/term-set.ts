import { evaluateTerms, modelTerms, type ScheffeModel, type Term } from '../design/terms.ts';
import { independentColumns } from '../numeric/least-squares.ts';
import { complementOf } from '../region/affine-hull.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { ModelName, RegionWidths } from './fit-types.ts';
import { spreadPoints } from './spread-points.ts';

/** Columns nearer than this to the span of those before are the same thing over the region. */
const ALIASED = 1e-9;

/** See `TermSet.untold`: a plane has no curvature, and mixes that suit it lie at the corners, where none can show. */
export const PLANE_LEAVES_OUT = 0.3;

/** The columns of a model that are fitted. */
export interface TermSet {
  model: ModelName;
  names: readonly string[];
  /** Names of terms that are no terms of their own over the region, or whose setting was never varied. */
  aliased: readonly string[];
  /** By term: a component by itself, whose zero is no hypothesis of interest. */
  pure: readonly boolean[];
  /**
   * What such a surface leaves out where too few mixes were tasted to tell, as a part of the variance that it shows
   * over the region. Measured in simulated worlds (docs/coverage.md); no published source.
   */
  untold: number;
  /** Orthonormal weights on the terms that are all zero just where the model is level over the blends. */
  level: readonly (readonly number[])[];
  /** Values of the terms at shares and coded settings, into `out`. */
  evaluate(shares: ArrayLike<number>, coded: ArrayLike<number>, out: Float64Array): void;
}

/**
 * The terms of a polynomial that can be told apart over the region, dropping from the last backward: a fixed
 * component or a flat region makes some terms combinations of others.
 *
 * @param still settings that no tasted mix varied: their terms are dropped too, the fit holds at that setting
 */
export function polynomialSet(
  space: BlendSpace,
  region: RegionWidths,
  model: ScheffeModel,
  still: readonly boolean[] = [],
): TermSet {
  const all = modelTerms(space, model);
  const asked = all.filter((term) => !term.settings.some((s) => still[s]));
  const points = spreadPoints(space, region, 2 * asked.length + 20);
  const matrix = new Float64Array(points.length * asked.length);
  points.forEach(({ shares, coded }, i) => {
    evaluateTerms(asked, shares, coded, matrix.subarray(i * asked.length, (i + 1) * asked.length));
  });
  const kept = new Set(
    independentColumns(matrix, points.length, asked.length, ALIASED).map((j) => asked[j]!),
  );
  const terms = asked.filter((term) => kept.has(term));
  return {
    model,
    names: terms.map(({ name }) => name),
    aliased: all.filter((term) => !kept.has(term)).map(({ name }) => name),
    pure: terms.map((term) => isLinear(term) && term.settings.length === 0),
    untold: terms.every(({ components }) => components.length < 2) ? PLANE_LEAVES_OUT : 0,
    level: levelContrasts(terms),
    evaluate: (shares, coded, out) => {
      evaluateTerms(terms, shares, coded, out);
    },
  };
}

function isLinear({ components, difference }: Term): boolean {
  return components.length === 1 && !difference;
}

/** Components alike, also in how each setting acts on them; products of components zero; settings alone free. */
function levelContrasts(terms: readonly Term[]): number[][] {
  const groups = new Map<string, number[]>();
  const rows: number[][] = [];
  terms.forEach((term, t) => {
    const key = term.settings.join();
    if (isLinear(term)) groups.set(key, [...(groups.get(key) ?? []), t]);
    else if (term.components.length > 0) rows.push(terms.map((_, j) => Number(j === t)));
  });
  for (const group of groups.values())
    for (const weights of complementOf([group.map(() => 1)], group.length))
      rows.push(terms.map((_, t) => weights[group.indexOf(t)] ?? 0));
  return rows;
}
