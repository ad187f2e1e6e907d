import { fixedWithVariancesHeld } from '../panel/mixed/held.ts';
import type { Surface } from './surface.ts';

/** The surface without all scores of one blend, variance components held. */
export interface BlendLeftOut {
  blend: string;
  /** Places of its mixes among the tasted ones. */
  mixes: number[];
  /** Coefficients and their covariance; null with a reason where the other mixes cannot tell them. */
  beta: Float64Array | null;
  covariance: Float64Array | null;
  reason: string | null;
}

/** Leaves out one blend after another; reference cups stay in. */
export function blendsLeftOut({ tasted: { cups, mixes, reference }, fit }: Surface): BlendLeftOut[] {
  return [...new Set(mixes.map(({ blend }) => blend))].map((blend) => {
    const own = [...mixes.keys()].filter((m) => mixes[m]!.blend === blend);
    const keep = Array.from(cups.mixOf, (mix) => mix === reference || mixes[mix]!.blend !== blend);
    const { beta, covariance, reason } = fixedWithVariancesHeld(fit, keep);
    return { blend, mixes: own, beta, covariance, reason };
  });
}

/** A prediction less certain than so many cups' standard deviations is hardly one. */
const HARDLY = 10;

/** Whether without the blend hardly anything is known at one of its mixes: the others hardly tell the terms apart. */
export function isHardlyTold(surface: Surface, { mixes, covariance }: BlendLeftOut): boolean {
  if (covariance === null) return true;
  return mixes.some((m) => varianceAt(surface, m, covariance) > HARDLY ** 2 * surface.fit.sigma2!);
}

/** x'β at a tasted mix. */
export function valueAt({ rows, set }: Surface, mix: number, beta: ArrayLike<number>): number {
  const p = set.names.length;
  let sum = 0;
  for (let j = 0; j < p; j++) sum += rows[mix * p + j]! * beta[j]!;
  return sum;
}

/** x'Cx at a tasted mix. */
export function varianceAt({ rows, set, fit }: Surface, mix: number, covariance: Float64Array): number {
  const p = set.names.length;
  let sum = 0;
  for (let i = 0; i < p; i++)
    for (let j = 0; j < p; j++) sum += rows[mix * p + i]! * covariance[i * fit.p + j]! * rows[mix * p + j]!;
  return sum;
}
