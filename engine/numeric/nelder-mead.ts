import { EngineError } from '../errors.ts';
import type { Minimum } from './quasi-newton.ts';

export interface SimplexOptions {
  low?: readonly number[];
  high?: readonly number[];
  /** First steps along each coordinate; default a tenth of max(1, |start|). */
  steps?: readonly number[];
  /** Spread of the simplex, relative to max(1, |x|), at which a run ends; default 1e-9. */
  tolerance?: number;
  /** Default 20 000. */
  evaluations?: number;
}

interface Corner {
  x: number[];
  value: number;
}

/** Reflection, expansion, contraction, shrinkage, adapted to the number of coordinates (Gao and Han 2012). */
interface Moves {
  expand: number;
  contract: number;
  shrink: number;
}

/**
 * Minimises a function that need not be smooth by the simplex of Nelder and Mead (1965), started afresh around its
 * best point until that no longer helps. Points are projected into the bounds.
 *
 * @throws EngineError `bad-argument` where nothing is to be varied or the start has no finite value
 */
export function minimiseBySimplex(
  f: (x: readonly number[]) => number,
  start: readonly number[],
  options: SimplexOptions = {},
): Minimum {
  const { tolerance = 1e-9, evaluations = 20_000, low, high } = options;
  let spent = 0;
  const corner = (at: readonly number[]): Corner => {
    spent++;
    const x = at.map((v, i) => Math.min(high?.[i] ?? Infinity, Math.max(low?.[i] ?? -Infinity, v)));
    const value = f(x);
    return { x, value: Number.isNaN(value) ? Infinity : value };
  };
  let best = corner(start);
  if (start.length === 0 || !Number.isFinite(best.value))
    throw new EngineError('bad-argument', 'start', start, 'a point with a finite value');
  for (let round = 0; ; round++) {
    const steps = best.x.map((v, i) => (options.steps?.[i] ?? 0.1 * Math.max(1, Math.abs(v))) / (round + 1));
    const simplex = [best, ...best.x.map((v, i) => corner(best.x.with(i, apart(v, steps[i]!, high?.[i]))))];
    while (spent < evaluations && spreadOf(simplex) > tolerance) move(simplex, corner);
    const found = simplex.reduce((a, b) => (b.value < a.value ? b : a));
    const gained = best.value - found.value;
    best = found;
    if (spent >= evaluations) return { ...best, status: 'stopped', evaluations: spent };
    if (round > 0 && gained <= 1e-12 * Math.max(1, Math.abs(best.value)))
      return { ...best, status: 'converged', evaluations: spent };
  }
}

function apart(v: number, step: number, high = Infinity): number {
  return v + step > high ? v - step : v + step;
}

function spreadOf(simplex: readonly Corner[]): number {
  const [first, ...rest] = simplex;
  return Math.max(
    ...rest.flatMap((c) => c.x.map((v, i) => Math.abs(v - first!.x[i]!) / Math.max(1, Math.abs(v)))),
  );
}

function move(simplex: Corner[], corner: (x: readonly number[]) => Corner): void {
  simplex.sort((a, b) => a.value - b.value);
  const n = simplex.length - 1;
  const size = Math.max(2, n);
  const moves: Moves = { expand: 1 + 2 / size, contract: 0.75 - 0.5 / size, shrink: 1 - 1 / size };
  const worst = simplex[n]!;
  const middle = worst.x.map((_, i) => simplex.slice(0, n).reduce((sum, c) => sum + c.x[i]!, 0) / n);
  const beyond = (factor: number) => corner(middle.map((m, i) => m + factor * (m - worst.x[i]!)));
  const mirrored = beyond(1);
  if (mirrored.value < simplex[0]!.value) {
    const further = beyond(moves.expand);
    simplex[n] = further.value < mirrored.value ? further : mirrored;
  } else if (mirrored.value < simplex[n - 1]!.value) simplex[n] = mirrored;
  else {
    const nearer = beyond(mirrored.value < worst.value ? moves.contract : -moves.contract);
    if (nearer.value < Math.min(worst.value, mirrored.value)) simplex[n] = nearer;
    else shrink(simplex, moves.shrink, corner);
  }
}

function shrink(simplex: Corner[], factor: number, corner: (x: readonly number[]) => Corner): void {
  const best = simplex[0]!;
  for (let k = 1; k < simplex.length; k++)
    simplex[k] = corner(simplex[k]!.x.map((v, i) => best.x[i]! + factor * (v - best.x[i]!)));
}
