import type { NamedStream } from '../../../trials/demo/named-stream.ts';
import { chord, type HalfSpaces, halfSpacesOf, hitAndRun } from '../hit-and-run.ts';
import type { Evidence, Recipe } from './baseline.ts';

/**
 * Weighable recipes inside the region: half of them nearly uniform, half pushed to its edges and corners; settings
 * uniform, each fourth at an end.
 */
export function candidateRecipes(evidence: Evidence, count: number, stream: NamedStream): Recipe[] {
  const { space } = evidence.world;
  const halves = halfSpacesOf(space);
  const inside = hitAndRun(halves, startInside(halves, evidence, stream), count, stream);
  const found: Recipe[] = [];
  inside.forEach((shares, i) => {
    const pushed = i % 2 === 0 ? shares : toTheEdge(halves, shares, stream);
    const rounded = weighable(halves, pushed, evidence.world.batch);
    if (rounded) found.push({ shares: rounded, settings: drawSettings(evidence, stream) });
  });
  return found;
}

/** The mean of the region's points, and the middle of every setting. */
export function centreRecipe(evidence: Evidence, stream: NamedStream): Recipe {
  const { space, batch } = evidence.world;
  const halves = halfSpacesOf(space);
  const points = hitAndRun(halves, startInside(halves, evidence, stream), 600, stream);
  const mean = space.components.map((_, i) => points.reduce((sum, p) => sum + p[i]!, 0) / points.length);
  const settings = space.settings.map(({ low, high }) => (low + high) / 2);
  return { shares: weighable(halves, mean, batch) ?? mean, settings };
}

/** The nearest whole numbers of steps that sum to the batch, or null where that leaves the region. */
export function weighable(
  halves: HalfSpaces,
  shares: readonly number[],
  batch: { grams: number; readability: number },
): number[] | null {
  const total = Math.round(batch.grams / batch.readability);
  const exact = shares.map((share) => share * total);
  const steps = exact.map(Math.floor);
  let rest = total - steps.reduce((a, b) => a + b, 0);
  const byRemainder = exact
    .map((e, i) => ({ i, remainder: e - steps[i]! }))
    .sort((a, b) => b.remainder - a.remainder);
  for (const { i } of byRemainder) if (rest-- > 0) steps[i]!++;
  const rounded = steps.map((s) => s / total);
  return isInside(halves, rounded) ? rounded : null;
}

export function isInside(halves: HalfSpaces, shares: readonly number[]): boolean {
  return halves.rows.every((row, r) => {
    return row.reduce((sum, c, i) => sum + c * shares[i]!, 0) <= halves.limits[r]! + 1e-9;
  });
}

/** A few straight pushes along random directions until nothing moves far any more. */
function toTheEdge(halves: HalfSpaces, shares: readonly number[], stream: NamedStream): number[] {
  const at = [...shares];
  const pushes = 1 + Math.floor(at.length * stream.uniform());
  for (let k = 0; k < pushes; k++) {
    const i = Math.floor(at.length * stream.uniform());
    const j = (i + 1 + Math.floor((at.length - 1) * stream.uniform())) % at.length;
    const direction = at.map((_, c) => (c === i ? 1 : c === j ? -1 : 0));
    const [, forth] = chord(halves, at, direction);
    for (let c = 0; c < at.length; c++) at[c]! += 0.999 * forth * direction[c]!;
  }
  return at;
}

function drawSettings(evidence: Evidence, stream: NamedStream): number[] {
  return evidence.world.space.settings.map(({ low, high }) => {
    const draw = stream.uniform();
    if (draw < 0.125) return low;
    if (draw < 0.25) return high;
    return low + ((high - low) * Math.round(16 * stream.uniform())) / 16;
  });
}

/** A feasible point by alternating corrections from the middle of the limits (Agmon 1954), then a walk inward. */
function startInside(halves: HalfSpaces, evidence: Evidence, stream: NamedStream): number[] {
  const { components } = evidence.world.space;
  const at = components.map(({ low, high }) => (low + high) / 2);
  for (let sweep = 0; sweep < 5000; sweep++) {
    const excess = (at.reduce((a, b) => a + b, 0) - 1) / at.length;
    for (let i = 0; i < at.length; i++) at[i]! -= excess;
    if (isInside(halves, at)) break;
    for (const [r, row] of halves.rows.entries()) correct(row, halves.limits[r]!, at);
  }
  return hitAndRun(halves, at, 20, stream)[19]!;
}

/** Moves a point that breaks one half-space to just inside it. */
function correct(row: readonly number[], limit: number, at: number[]): void {
  const over = row.reduce((sum, c, i) => sum + c * at[i]!, 0) - limit;
  if (over <= 0) return;
  const norm = row.reduce((sum, c) => sum + c * c, 0);
  for (let i = 0; i < at.length; i++) at[i]! -= (1.05 * over * row[i]!) / norm;
}
