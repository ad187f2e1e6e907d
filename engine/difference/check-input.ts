import { EngineError } from '../errors.ts';
import { requireCount } from '../numeric/guard.ts';
import { DIFFERENCE_METHODS, type DifferenceMethod } from './methods.ts';

export function requireMethod(method: DifferenceMethod): void {
  if (!DIFFERENCE_METHODS.includes(method))
    throw new EngineError('bad-argument', 'method', method, DIFFERENCE_METHODS.join(', '));
}

/** Whole numbers with 1 ≤ trials and 0 ≤ correct ≤ trials. */
export function requireAnswers(trials: number, correct: number): void {
  requireCount('trials', trials, 1);
  requireCount('correct', correct);
  if (correct > trials)
    throw new EngineError('bad-argument', 'correct', correct, `at most ${trials}, the trials`);
}

/** Strictly between 0 and 1. */
export function requireShare(argument: string, share: number): void {
  if (!(share > 0 && share < 1)) throw new EngineError('bad-argument', argument, share, 'between 0 and 1');
}

/** A power above the error rate, both between 0 and 1. */
export function requirePower(power: number, alpha: number): void {
  requireShare('alpha', alpha);
  requireShare('power', power);
  if (power <= alpha) throw new EngineError('bad-argument', 'power', power, `above alpha, ${alpha}`);
}

export function requireAboveZero(argument: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value)))
    throw new EngineError('bad-argument', argument, value, 'a number above 0');
}
