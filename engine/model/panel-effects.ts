import type { Cups } from '../panel/cups.ts';
import type { EffectWeights, RandomFactor } from '../panel/mixed/types.ts';
import { ASSESSOR, ASSESSOR_BY_MIX, assessorByMixLevel, SESSION } from '../panel/random-effects.ts';

/**
 * The weights that turn random effects into this panel's own average: every assessor alike, sessions as they were
 * poured. Only effects that the model has are named.
 */
export function panelAverage(cups: Cups, factors: readonly RandomFactor[]): EffectWeights {
  const has = (name: string) => factors.some((f) => f.name === name);
  const n = cups.y.length;
  const served = cups.sessions.map((_, s) => cups.sessionOf.reduce((k, own) => k + Number(own === s), 0) / n);
  return [
    ...(has(ASSESSOR) ? everyAssessor(cups, (a) => ({ factor: ASSESSOR, level: a })) : []),
    ...(has(SESSION) ? served.map((weight, s) => ({ factor: SESSION, level: s, weight })) : []),
  ];
}

/** The assessors' own deviations at one tasted mix, averaged; empty where the model has none. */
export function panelAtMix(cups: Cups, factors: readonly RandomFactor[], mix: number): EffectWeights {
  if (!factors.some((f) => f.name === ASSESSOR_BY_MIX)) return [];
  return everyAssessor(cups, (a) => ({ factor: ASSESSOR_BY_MIX, level: assessorByMixLevel(cups, a, mix) }));
}

function everyAssessor(cups: Cups, level: (assessor: number) => { factor: string; level: number }) {
  const weight = 1 / cups.assessors.length;
  return cups.assessors.map((_, a) => ({ ...level(a), weight }));
}
