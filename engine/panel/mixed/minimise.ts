import { boundedStep } from './bounded-step.ts';

/** A smooth function of a few nonnegative numbers, with its derivatives and a positive definite stand-in. */
export interface Expansion {
  value: number;
  gradient: Float64Array;
  hessian: Float64Array;
  /** Expected second derivatives (Fisher's information), positive definite. */
  expected: Float64Array;
}

export interface BoundedProblem<E extends Expansion> {
  /** Infinite where the function cannot be had. */
  value(position: Float64Array): number;
  expand(position: Float64Array): E | null;
  /** No coordinate may pass this. */
  most: number;
}

export interface Minimum<E extends Expansion> {
  position: Float64Array;
  expansion: E;
  evaluations: number;
  status: 'converged' | 'at-limit' | 'stalled';
}

/** A Newton decrement (twice the expected fall) below this lets full steps pass without asking the value. */
const NEAR = 1e-9;
/** A decrement below this is an optimum to about 1e-8 of a standard error. */
const DONE = 1e-17;
const MOST_STEPS = 100;

/**
 * Minimises over nonnegative coordinates by Newton's steps with exact second derivatives where they are positive
 * definite, Fisher's scoring elsewhere, each step solved exactly within the bounds, shortened until the value
 * falls. A coordinate whose optimum is the bound ends at exactly 0 with a nonnegative derivative (the
 * Karush-Kuhn-Tucker condition).
 */
export function minimiseBounded<E extends Expansion>(
  problem: BoundedProblem<E>,
  start: Float64Array,
): Minimum<E> | null {
  let position = start;
  let expansion = problem.expand(start);
  let evaluations = 1;
  let polishing = 0;
  if (!expansion) return null;
  for (let count = 0; count < MOST_STEPS; count++) {
    const { step, fall } = direction(expansion, position);
    const result = (status: Minimum<E>['status']) => ({
      position,
      expansion: expansion!,
      evaluations,
      status,
    });
    if (!step || fall <= DONE || polishing > 3) return result('converged');
    if (position.some((v) => v >= problem.most)) return result('at-limit');
    const near = fall < NEAR;
    if (near) polishing++;
    const moved = near
      ? { position: along(position, step, 1, problem.most), evaluations: 0 }
      : search(problem, expansion, position, step, fall);
    if (!moved) return result(fall < 1e-6 ? 'converged' : 'stalled');
    const next = problem.expand(moved.position);
    evaluations += moved.evaluations + 1;
    if (!next) return result('stalled');
    position = moved.position;
    expansion = next;
  }
  return { position, expansion, evaluations, status: 'stalled' };
}

/** The bounded Newton step, or Fisher's where second derivatives are not positive definite. */
function direction(e: Expansion, position: Float64Array) {
  const step = boundedStep(e.gradient, e.hessian, position) ?? boundedStep(e.gradient, e.expected, position);
  let fall = 0;
  step?.forEach((d, k) => {
    fall -= d * e.gradient[k]!;
  });
  return { step, fall };
}

/** Halves the step until the value falls by a ten-thousandth of what the slope promises (Armijo). */
function search<E extends Expansion>(
  problem: BoundedProblem<E>,
  e: E,
  position: Float64Array,
  step: Float64Array,
  fall: number,
): { position: Float64Array; evaluations: number } | null {
  for (let halvings = 0, length = 1; halvings < 40; halvings++, length /= 2) {
    const candidate = along(position, step, length, problem.most);
    if (problem.value(candidate) <= e.value - 1e-4 * length * fall)
      return { position: candidate, evaluations: halvings + 1 };
  }
  return null;
}

function along(position: Float64Array, step: Float64Array, length: number, most: number): Float64Array {
  return position.map((v, k) => Math.min(most, Math.max(0, v + length * step[k]!)));
}
