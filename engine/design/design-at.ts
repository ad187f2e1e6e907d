import type { Spot } from './candidate-table.ts';
import { type Criterion, DesignState } from './design-state.ts';
import { orthonormalTerms, type TermSpace } from './term-space.ts';

/** Terms, criterion and what is known beforehand. */
export interface DesignGround {
  space: TermSpace;
  criterion: Criterion;
  /** p × p in the coordinates of the design: prior information and mixes that stand. */
  fixed: Float64Array;
}

/**
 * The design of mixes at given places.
 *
 * @param weights how often each is weighed; default once
 */
export function designAt(
  { space, criterion, fixed }: DesignGround,
  spots: readonly Spot[],
  weights: readonly number[] = spots.map(() => 1),
): DesignState {
  const state = new DesignState(space.terms.length, criterion, weights, fixed);
  spots.forEach(({ shares, coded }, row) => {
    state.setRow(row, orthonormalTerms(space, shares, coded));
  });
  state.rebuild();
  return state;
}
