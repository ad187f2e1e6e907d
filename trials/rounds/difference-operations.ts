import type { DifferenceMethod } from '../../engine/difference/methods.ts';
import { planDifference } from '../../engine/difference/plan-difference.ts';
import { readDifference } from '../../engine/difference/read-difference.ts';
import { VERSION } from './version.ts';

export interface DifferenceRequest {
  method: DifferenceMethod;
  trials: number;
  correct: number;
}

/** Can tasters tell two samples apart. */
export function differenceOperation({ method, trials, correct }: DifferenceRequest) {
  const input = { method, trials, correct };
  return { ...input, ...readDifference(method, trials, correct), warnings: [] as string[], version: VERSION };
}

export interface DifferencePlanRequest {
  method: DifferenceMethod;
  dPrime: number;
  power: number;
  alpha: number;
}

/** How many tastings it takes to show a difference. */
export function differencePlanOperation({ method, dPrime, power, alpha }: DifferencePlanRequest) {
  const asked = { method, dPrime, asked: { power, alpha } };
  const plan = planDifference(method, { dPrime, power, alpha });
  return { ...asked, ...plan, warnings: [] as string[], version: VERSION };
}
