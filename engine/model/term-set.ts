import { evaluateTerms, modelTerms, type ScheffeModel, type Term } from '../design/terms.ts';
import { independentColumns } from '../numeric/least-squares.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { RegionWidths } from './fit-types.ts';
import { spreadPoints } from './spread-points.ts';

/** Columns nearer than this to the span of those before are the same thing over the region. */
const ALIASED = 1e-9;

export interface TermSet {
  model: ScheffeModel;
  /** What is fitted. */
  terms: Term[];
  /** Names of terms that are no terms of their own over the region, or whose setting was never varied. */
  aliased: string[];
}

/**
 * The terms of a model that can be told apart over the region, dropping from the last backward: a fixed component
 * or a flat region makes some terms combinations of others.
 *
 * @param still settings that no tasted mix varied: their terms are dropped too, the fit holds at that setting
 */
export function termSet(
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
  return {
    model,
    terms: asked.filter((term) => kept.has(term)),
    aliased: all.filter((term) => !kept.has(term)).map(({ name }) => name),
  };
}

/** Whether a term is a component by itself. */
export function isPure(term: Term): boolean {
  return term.components.length === 1 && term.settings.length === 0 && !term.difference;
}
