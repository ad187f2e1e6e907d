import { EngineError } from '../errors.ts';

/** Throws `bad-argument` unless the number is finite. */
export function requireFinite(argument: string, value: number): void {
  if (!Number.isFinite(value)) throw new EngineError('bad-argument', argument, value, 'a finite number');
}

/** Throws `bad-argument` unless 0 ≤ p ≤ 1. */
export function requireProbability(argument: string, p: number): void {
  if (!(p >= 0 && p <= 1)) throw new EngineError('bad-argument', argument, p, 'a probability, 0 to 1');
}

/** Throws `bad-argument` unless the number is above zero (infinity allowed). */
export function requirePositive(argument: string, value: number): void {
  if (!(value > 0)) throw new EngineError('bad-argument', argument, value, 'a number above zero');
}

/** Throws `bad-argument` unless the number is whole and at least `least`. */
export function requireCount(argument: string, value: number, least = 0): void {
  if (!Number.isInteger(value) || value < least) {
    throw new EngineError('bad-argument', argument, value, `a whole number of at least ${least}`);
  }
}
