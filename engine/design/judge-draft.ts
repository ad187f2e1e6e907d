import { dot } from '../numeric/dense.ts';
import { type BlendSpace, codeSetting } from '../region/blend-space.ts';
import { DesignState } from './design-state.ts';
import type { PlanBasis, PlannedPlace } from './plan-types.ts';
import { priorInCoordinates } from './prior.ts';
import { transformTerms } from './term-space.ts';
import { evaluateTerms } from './terms.ts';

export interface DraftQuestion {
  space: BlendSpace;
  basis: PlanBasis;
  /** Prior precision of each term, where the plan has any. */
  precision?: readonly number[] | undefined;
  /** What is weighed already. */
  already: readonly PlannedPlace[];
}

/** In units of the variance of one cup. */
interface JudgedDraft {
  /** Average variance of a prediction over the region. */
  average: number;
  varianceAt(place: PlannedPlace): number;
}

/**
 * Judges a plan that was changed by hand, at once and without a search.
 *
 * @returns a function from the mixes to what they would teach; null where they cannot settle all terms
 */
export function draftJudge(question: DraftQuestion): (mixes: readonly PlannedPlace[]) => JudgedDraft | null {
  const { space, basis, precision, already } = question;
  const p = basis.terms.length;
  const transform = squareOf(basis.transform, p);
  const fixed = precision ? priorInCoordinates(precision, transform) : new Float64Array(p * p);
  const coordinates = ({ shares, settings }: PlannedPlace) => {
    const coded = space.settings.map((setting, s) => codeSetting(setting, settings[s]!));
    const g = new Float64Array(p);
    transformTerms(transform, evaluateTerms(basis.terms, shares, coded), g);
    return g;
  };
  return (mixes) => {
    const rows = [...already, ...mixes].map(coordinates);
    const state = new DesignState(p, 'average-variance', new Array<number>(rows.length).fill(1), fixed);
    rows.forEach((g, r) => {
      state.setRow(r, g);
    });
    state.rebuild();
    if (!state.sound) return null;
    const varianceAt = (place: PlannedPlace) => {
      const g = coordinates(place);
      return dot(g, state.times(g));
    };
    return { average: state.trace, varianceAt };
  };
}

/** The lower triangle of a square, row by row. */
export function lowerRows(square: Float64Array, p: number): number[] {
  return Array.from({ length: p }, (_, i) => [...square.subarray(i * p, i * p + i + 1)]).flat();
}

function squareOf(lower: readonly number[], p: number): Float64Array {
  const square = new Float64Array(p * p);
  for (let i = 0, at = 0; i < p; i++) for (let j = 0; j <= i; j++) square[i * p + j] = lower[at++]!;
  return square;
}
