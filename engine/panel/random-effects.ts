import type { Cups } from './cups.ts';
import type { MixedFit, RandomFactor } from './mixed/types.ts';

export const ASSESSOR = 'assessor';
export const ASSESSOR_BY_MIX = 'assessorByMix';
export const SESSION = 'session';
export const ASSESSOR_BY_SESSION = 'assessorBySession';

/** Variances as they are reported: 0 = estimated as zero, null = cannot be estimated from these cups. */
export interface Variances {
  assessor: number | null;
  assessorByMix: number | null;
  session: number | null;
  residual: number | null;
  /** Only where it was asked for. */
  assessorBySession?: number | null;
}

/** The random part of a model, and in words what was left out of the full one and why. */
export interface RandomPart {
  factors: RandomFactor[];
  reduced: string[];
}

/**
 * The random effects that these cups can hold: assessor; assessor by mix only where some assessor scored a mix more
 * than once; session only with two or more; assessor by session only where asked for. With one assessor there are
 * none: ordinary least squares.
 */
export function randomPartOf(cups: Cups): RandomPart {
  if (cups.assessors.length < 2)
    return {
      factors: [],
      reduced: ['only one assessor: ordinary least squares, and nothing can be said about other tasters'],
    };
  const factors: RandomFactor[] = [{ name: ASSESSOR, levels: cups.assessorOf, count: cups.assessors.length }];
  const reduced: string[] = [];
  if (hasRepeats(cups)) factors.push(assessorByMix(cups));
  else
    reduced.push(
      'no assessor scored a mix twice: assessor by mix cannot be told from the noise of a cup and is part of it',
    );
  if (cups.sessions.length > 1)
    factors.push({ name: SESSION, levels: cups.sessionOf, count: cups.sessions.length });
  else reduced.push('only one session: no differences between sessions are estimated');
  if (cups.assessorsBySession) {
    if (cups.sessions.length > 1) factors.push(assessorBySession(cups));
    else reduced.push('only one session: no shifts of assessors between sessions are estimated');
  }
  return { factors, reduced };
}

/** The level number of assessor a with mix m in the factor `assessorByMix`. */
export function assessorByMixLevel(cups: Cups, assessor: number, mix: number): number {
  return assessor * cups.mixes.length + mix;
}

/** The four reported variances of a fit; what the fit has not is null. */
export function variancesOf(fit: MixedFit): Variances {
  const of = (name: string) => fit.variances[name] ?? null;
  const asked = fit.prepared.random.some(({ name }) => name === ASSESSOR_BY_SESSION);
  return {
    assessor: of(ASSESSOR),
    assessorByMix: of(ASSESSOR_BY_MIX),
    session: of(SESSION),
    residual: fit.sigma2,
    ...(asked ? { assessorBySession: of(ASSESSOR_BY_SESSION) } : {}),
  };
}

/** What the fit itself found that reduces the model, in words. */
export function reductionsOf(fit: MixedFit): string[] {
  const zero = fit.zero.map((name) => `${PLAIN[name] ?? name}: estimated as zero and dropped`);
  const confounded = fit.unidentified.map(
    (name) => `${PLAIN[name] ?? name}: cannot be told from the rest of the model and left out`,
  );
  return [...zero, ...confounded];
}

export const NO_VARIANCES: Variances = {
  assessor: null,
  assessorByMix: null,
  session: null,
  residual: null,
};

const PLAIN: Record<string, string> = {
  [ASSESSOR]: 'differences between assessors',
  [ASSESSOR_BY_MIX]: 'assessor by mix',
  [SESSION]: 'differences between sessions',
  [ASSESSOR_BY_SESSION]: 'shifts of assessors between sessions',
};

function assessorByMix(cups: Cups): RandomFactor {
  return {
    name: ASSESSOR_BY_MIX,
    levels: cups.assessorOf.map((assessor, i) => assessorByMixLevel(cups, assessor, cups.mixOf[i]!)),
    count: cups.assessors.length * cups.mixes.length,
  };
}

/** Each assessor's own level in each session. */
export function assessorBySession(cups: Cups): RandomFactor {
  const sessions = cups.sessions.length;
  return {
    name: ASSESSOR_BY_SESSION,
    levels: cups.assessorOf.map((assessor, i) => assessor * sessions + cups.sessionOf[i]!),
    count: cups.assessors.length * sessions,
  };
}

function hasRepeats(cups: Cups): boolean {
  const seen = new Set<number>();
  for (let i = 0; i < cups.y.length; i++) {
    const cell = assessorByMixLevel(cups, cups.assessorOf[i]!, cups.mixOf[i]!);
    if (seen.has(cell)) return true;
    seen.add(cell);
  }
  return false;
}
