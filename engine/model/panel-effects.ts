import type { Cups } from '../panel/cups.ts';
import type { EffectWeights, MixedFit } from '../panel/mixed/types.ts';
import {
  ASSESSOR,
  ASSESSOR_BY_MIX,
  ASSESSOR_BY_SESSION,
  assessorByMixLevel,
  SESSION,
} from '../panel/random-effects.ts';
import { DEVIATION } from './surface.ts';

/**
 * The weights that turn random effects into this panel's own average: every assessor alike, sessions as they were
 * poured. Only effects that the model has are named.
 */
export function panelAverage(cups: Cups, fit: MixedFit): EffectWeights {
  return [...ownAssessors(cups, fit), ...sessionsAsPoured(cups, fit), ...shiftsAsPoured(cups, fit)];
}

/** As `panelAverage`, with as many assessors from outside the panel in place of its own. */
export function populationAverage(cups: Cups, fit: MixedFit): EffectWeights {
  if (!has(fit, ASSESSOR)) return sessionsAsPoured(cups, fit);
  const others = everyAssessor(cups, (a) => ({ factor: ASSESSOR, level: cups.assessors.length + a }));
  return [...others, ...sessionsAsPoured(cups, fit), ...othersShifts(cups, fit)];
}

/** What the panel's average at one tasted mix has beside the surface: the assessors' own deviations. */
export function panelAtMix(cups: Cups, fit: MixedFit, mix: number): EffectWeights {
  if (!has(fit, ASSESSOR_BY_MIX)) return [];
  return everyAssessor(cups, (a) => ({ factor: ASSESSOR_BY_MIX, level: assessorByMixLevel(cups, a, mix) }));
}

/** The same at a ratio that nobody tasted: nothing is known of these deviations but their variance. */
export function panelElsewhere(cups: Cups, fit: MixedFit): EffectWeights {
  if (!has(fit, ASSESSOR_BY_MIX)) return [];
  const first = cups.assessors.length * cups.mixes.length;
  return everyAssessor(cups, (a) => ({ factor: ASSESSOR_BY_MIX, level: first + a }));
}

/** Lack of fit at any ratio: a deviation from the surface of which only the variance is known. */
export function misfitAnywhere(cups: Cups, fit: MixedFit): EffectWeights {
  return has(fit, DEVIATION) ? [{ factor: DEVIATION, level: cups.mixes.length, weight: 1 }] : [];
}

function ownAssessors(cups: Cups, fit: MixedFit): EffectWeights {
  return has(fit, ASSESSOR) ? everyAssessor(cups, (a) => ({ factor: ASSESSOR, level: a })) : [];
}

function sessionsAsPoured(cups: Cups, fit: MixedFit): EffectWeights {
  if (!has(fit, SESSION)) return [];
  const served = new Float64Array(cups.sessions.length);
  for (const session of cups.sessionOf) served[session]! += 1 / cups.y.length;
  return Array.from(served, (weight, level) => ({ factor: SESSION, level, weight }));
}

/** Every assessor alike, each one's sessions as they were poured. */
function shiftsAsPoured(cups: Cups, fit: MixedFit): EffectWeights {
  if (!has(fit, ASSESSOR_BY_SESSION)) return [];
  const sessions = cups.sessions.length;
  const served = new Float64Array(cups.assessors.length * sessions);
  const own = new Float64Array(cups.assessors.length);
  cups.assessorOf.forEach((assessor, i) => {
    served[assessor * sessions + cups.sessionOf[i]!]! += 1;
    own[assessor]! += 1;
  });
  return Array.from(served, (count, level) => ({
    factor: ASSESSOR_BY_SESSION,
    level,
    weight: count / own[Math.floor(level / sessions)]! / cups.assessors.length,
  }));
}

/** Others come to one session each. */
function othersShifts(cups: Cups, fit: MixedFit): EffectWeights {
  if (!has(fit, ASSESSOR_BY_SESSION)) return [];
  const first = cups.assessors.length * cups.sessions.length;
  return everyAssessor(cups, (a) => ({ factor: ASSESSOR_BY_SESSION, level: first + a }));
}

function has(fit: MixedFit, name: string): boolean {
  return fit.prepared.random.some((factor) => factor.name === name);
}

function everyAssessor(cups: Cups, level: (assessor: number) => { factor: string; level: number }) {
  const weight = 1 / cups.assessors.length;
  return cups.assessors.map((_, a) => ({ ...level(a), weight }));
}
