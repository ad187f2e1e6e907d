import type { PanelPosterior } from '../model/posterior-types.ts';
import { innerProduct } from '../numeric/dense.ts';
import type { LinearSolver } from '../numeric/linear-solver.ts';
import type { Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import { describeRegion } from '../region/describe-region.ts';
import { type Limit, limitsOf, type Names, sayLimit, sayNumber } from '../region/limits.ts';
import { samplePoints } from '../region/sampling.ts';
import { calledBy } from './judged.ts';
import type { Recipe } from './recipe.ts';
import { screen } from './screening.ts';

/** A limit of the brief that the best ratio lies on, and what giving way there is expected to bring. */
export interface RelaxedLimit {
  /** The limit as it stands: `Lime oil at most 0.3`. */
  limit: string;
  /** Where it would stand. */
  to: number;
  /** Expected distance (with what is not known) at the best ratio, and at the best one beyond the limit. */
  before: number;
  after: number;
}

export interface RelaxingSetup {
  space: BlendSpace;
  names: Names;
  attributes: readonly Attribute[];
  posterior: PanelPosterior;
  /** Expected scores of the reference by place on the ballot. */
  reference: readonly (number | null)[];
  solver: LinearSolver;
  random: Random;
}

/** A limit counts as active where the ratio lies within this part of its range of it. */
const TOUCHES = 0.02;
/** How far a limit gives way, as a part of its range. */
const GIVES = 0.15;
const POINTS = 150;
/** Less than this many points of 100 is not worth another brief. */
const WORTH = 0.2;

/**
 * For each limit that the best ratio touches: how much nearer the target the models expect to come where that limit
 * alone gives way by 15 % of its range. Only limits whose giving way brings something are returned, the most
 * promising first. The models are asked beyond what was tasted, which their standard errors there count.
 */
export function relaxedLimits(best: Recipe, setup: RelaxingSetup): RelaxedLimit[] {
  const before = expectedAt([best], setup)[0]!;
  return [...shareLimits(best, setup), ...settingLimits(best, setup)]
    .flatMap(({ says, to, space }): RelaxedLimit[] => {
      const points = around(best, space, setup);
      const after = points.length === 0 ? before : Math.min(...expectedAt(points, setup));
      return before - after >= WORTH ? [{ limit: says, to, before, after }] : [];
    })
    .sort((a, b) => a.after - b.after);
}

interface Relaxed {
  says: string;
  to: number;
  space: BlendSpace;
}

function shareLimits({ shares }: Recipe, { space, names }: RelaxingSetup): Relaxed[] {
  return limitsOf(space).flatMap((limit): Relaxed[] => {
    const range = rangeOf(space, limit);
    const slack = innerProduct(limit.coefficients, shares) - limit.at;
    if (limit.natural || slack > TOUCHES * range) return [];
    const upper = limit.kind === 'high' || limit.kind === 'most';
    const single = limit.kind === 'low' || limit.kind === 'high';
    const moved = (upper ? -limit.at : limit.at) + (upper ? 1 : -1) * GIVES * range;
    const to = Number((single ? Math.min(1, Math.max(0, moved)) : moved).toPrecision(3));
    return [{ says: sayLimit(space, limit, names), to, space: withLimit(space, limit, to) }];
  });
}

/** How far the limit's left side can move over the components' own ranges. */
function rangeOf(space: BlendSpace, { coefficients }: Limit): number {
  return space.components.reduce((sum, { low, high }, i) => {
    return sum + Math.abs(coefficients[i]!) * (Math.min(1, high) - Math.max(0, low));
  }, 0);
}

function withLimit(space: BlendSpace, { kind, index }: Limit, to: number): BlendSpace {
  if (kind === 'low' || kind === 'high')
    return { ...space, components: space.components.map((c, i) => (i === index ? { ...c, [kind]: to } : c)) };
  return { ...space, bounds: space.bounds.map((b, i) => (i === index ? { ...b, [kind]: to } : b)) };
}

function settingLimits({ settings }: Recipe, { space, names }: RelaxingSetup): Relaxed[] {
  return space.settings.flatMap(({ id, low, high }, s) => {
    const range = high - low;
    return (['low', 'high'] as const).flatMap((side): Relaxed[] => {
      const at = side === 'low' ? low : high;
      if (!(range > 0) || Math.abs(settings[s]! - at) > TOUCHES * range) return [];
      const moved = at + (side === 'high' ? 1 : -1) * GIVES * range;
      const to = Number((low >= 0 ? Math.max(0, moved) : moved).toPrecision(3));
      if (to === at) return [];
      const says = `${calledBy(names, id)} at ${side === 'high' ? 'most' : 'least'} ${sayNumber(at)}`;
      const widened = space.settings.map((one, i) => (i === s ? { ...one, [side]: to } : one));
      return [{ says, to, space: { ...space, settings: widened } }];
    });
  });
}

/** Points of the wider region near the best ratio, part of the way toward uniform ones. */
function around(best: Recipe, space: BlendSpace, { solver, random, names }: RelaxingSetup): Recipe[] {
  const region = describeRegion(space, solver, { names });
  return samplePoints(region, random, POINTS).map((end, i) => {
    const by = 0.05 + 0.55 * ((i % 10) / 10);
    return {
      shares: best.shares.map((share, c) => share + by * (end[c]! - share)),
      settings: space.settings.map(({ low, high }, s) => {
        const nudged = best.settings[s]! + by * (high - low) * random.normal();
        return Math.min(high, Math.max(low, nudged));
      }),
    };
  });
}

function expectedAt(points: readonly Recipe[], setup: RelaxingSetup): number[] {
  const predictions = setup.posterior.predict(points);
  return screen(setup.attributes, predictions, setup.reference).map(({ expected }) => expected);
}
