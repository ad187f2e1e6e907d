import type { BlendSpace } from '../../../engine/region/blend-space.ts';
import type { Recipe } from './baseline.ts';

/** Shares and settings on 0..1 over the ranges of the brief, so that potent traces count as much as the rest. */
export function scaledInputs(space: BlendSpace, recipe: Recipe): number[] {
  const shares = space.components.map(({ low, high }, i) => (recipe.shares[i]! - low) / (high - low || 1));
  const settings = space.settings.map(({ low, high }, s) => (recipe.settings[s]! - low) / (high - low || 1));
  return [...shares, ...settings];
}

/** Recipes spread as far apart as a greedy choice among candidates gets them, the most central one first. */
export function spreadOut(space: BlendSpace, candidates: readonly Recipe[], count: number): Recipe[] {
  const inputs = candidates.map((recipe) => scaledInputs(space, recipe));
  const centre = inputs[0]!.map((_, i) => inputs.reduce((sum, x) => sum + x[i]!, 0) / inputs.length);
  const nearest = inputs.map(() => Number.POSITIVE_INFINITY);
  const chosen: number[] = [];
  let next = indexOfLeast(inputs.map((x) => squaredGap(x, centre)));
  while (chosen.length < Math.min(count, candidates.length)) {
    chosen.push(next);
    inputs.forEach((x, i) => {
      nearest[i] = Math.min(nearest[i]!, squaredGap(x, inputs[next]!));
    });
    next = indexOfLeast(nearest.map((gap) => -gap));
  }
  return chosen.map((i) => candidates[i]!);
}

export function squaredGap(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, x, i) => sum + (x - b[i]!) ** 2, 0);
}

export function indexOfLeast(list: readonly number[]): number {
  let best = 0;
  for (let i = 1; i < list.length; i++) if (list[i]! < list[best]!) best = i;
  return best;
}
