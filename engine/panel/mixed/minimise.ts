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

interface Place<E extends Expansion> {
  position: Float64Array;
  expansion: E;
  evaluations: number;
}

/**
 * Minimises over nonnegative coordinates by Newton's steps with exact second derivatives where they are positive
 * definite, Fisher's scoring elsewhere, each step solved exactly within the bounds, shortened until the value
 * falls. A coordinate whose optimum is the bound ends at exactly 0 with a nonnegative derivative (the
 * Karush-Kuhn-Tucker condition).
 *
 * @returns null where the function cannot be had at `start`
 */
export function minimiseBounded<E extends Expansion>(
  problem: BoundedProblem<E>,
  start: Float64Array,
): Minimum<E> | null {
  const expansion = problem.expand(start);
  if (!expansion) return null;
  let place: Place<E> = { position: start, expansion, evaluations: 1 };
  let polishing = 0;
  for (let count = 0; count < MOST_STEPS; count++) {
    const { step, fall } = direction(place.expansion, place.position);
    if (!step || fall <= DONE || polishing > 3) return { ...place, status: 'converged' };
    if (place.position.some((v) => v >= problem.most)) return { ...place, status: 'at-limit' };
    if (fall < NEAR) polishing++;
    const next = advance(problem, place, step, fall);
    if (!next) return { ...place, status: fall < 1e-6 ? 'converged' : 'stalled' };
    place = next;
  }
  return { ...place, status: 'stalled' };
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

/** The full step, halved until the value falls by a ten-thousandth of what the slope promises (Armijo). */
function advance<E extends Expansion>(
  problem: BoundedProblem<E>,
  { position, expansion, evaluations }: Place<E>,
  step: Float64Array,
  fall: number,
): Place<E> | null {
  const enough = (length: number) => expansion.value - 1e-4 * length * fall;
  const full = along(position, step, 1, problem.most);
  const next = problem.expand(full);
  if (next && (fall < NEAR || next.value <= enough(1)))
    return { position: full, expansion: next, evaluations: evaluations + 1 };
  for (let halvings = 1, length = 0.5; halvings < 40; halvings++, length /= 2) {
    const shorter = along(position, step, length, problem.most);
    if (!(problem.value(shorter) <= enough(length))) continue;
    const found = problem.expand(shorter);
    return found && { position: shorter, expansion: found, evaluations: evaluations + halvings + 2 };
  }
  return null;
}

function along(position: Float64Array, step: Float64Array, length: number, most: number): Float64Array {
  return position.map((v, k) => Math.min(most, Math.max(0, v + length * step[k]!)));
}
