import type { PanelPosterior, Point, ScoreDraws, ScorePrediction } from '../model/posterior-types.ts';
import type { Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import { aimedAt, comparesWithReference, scaleLength } from './target-miss.ts';

/** Ratios where the target may be met exactly, and how likely it is that it is met anywhere. */
export interface Anchors {
  /** Places among the points that were looked at, and the share each has. */
  places: number[];
  shares: number[];
  /** Chance that some ratio of the region meets the target, before any of the draws is looked at. */
  reachable: number;
}

/** Before tasting, this share of targets can be met in their region; the simulated worlds have the same. */
const PRIOR = 0.7;
/** A target out of reach is off in about so many of its attributes, by about so many points of 100. */
const OFF_SHARE = 0.3;
const OFF_POINTS = 16;
/** How far the profile moves between neighbouring points that are looked at, in points of 100. */
const GRAIN = 3;
const KEPT = 24;

const REFERENCE_DRAWS = 256;

/**
 * The same posterior, its draws knowing that the target can probably be met: chances told without that are too low
 * where the predictions come near the target (measured in `docs/aim-notes.md`). Means and intervals stay as they are.
 *
 * @param everywhere points spread evenly over the region
 */
export function posteriorKnowingTarget(
  posterior: PanelPosterior,
  attributes: readonly Attribute[],
  everywhere: readonly Point[],
  random: Random,
): PanelPosterior {
  const reference = comparesWithReference(attributes)
    ? posterior.draws(everywhere.slice(0, 1), REFERENCE_DRAWS, random.fork('reference')).reference
    : attributes.map(() => null);
  const anchors = anchorsOf(attributes, posterior.predict(everywhere), reference.map(momentsOf));
  const at = anchors.places.map((i) => everywhere[i]!);
  return {
    ...posterior,
    // anchors are drawn first, so that what they draw does not depend on the points asked for
    draws: (points, count, own) => {
      const draws = posterior.draws([...at, ...points], count, own);
      return knowingTarget(attributes, toTheEnd(draws, 0, at.length), anchors, own.fork('target'));
    },
    drawsApart: ({ points, cover }, count, own) => {
      const draws = posterior.drawsApart({ points, cover: [...at, ...cover] }, count, own);
      const anchored = toTheEnd(draws, points.length, at.length);
      return knowingTarget(attributes, anchored, anchors, own.fork('target'));
    },
  };
}

/** The same draws with some of the points, from a place on, behind all others. */
function toTheEnd(draws: ScoreDraws, place: number, some: number): ScoreDraws {
  const { count, points } = draws;
  const scores = draws.scores.map((own) => {
    const out = own.slice();
    for (let s = 0; s < count; s++) {
      const [from, to] = [s * points + place, (s + 1) * points];
      out.set(own.subarray(from + some, to), from);
      out.set(own.subarray(from, from + some), to - some);
    }
    return out;
  });
  return { ...draws, scores };
}

function momentsOf(values: Float64Array | null): { mean: number; variance: number } | null {
  if (values === null) return null;
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return { mean, variance: values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length };
}

/**
 * A target is evidence too: somebody chose it because it can probably be made. Where on the region it is met, as the
 * predictions allow: the density of the target at each of many points spread evenly, against its density if it were
 * out of reach.
 *
 * @param predictions at points spread evenly over the region
 * @param reference by place on the ballot: mean and variance of the reference's own average; null where not tasted
 */
export function anchorsOf(
  attributes: readonly Attribute[],
  predictions: readonly ScorePrediction[],
  reference: readonly ({ mean: number; variance: number } | null)[],
): Anchors {
  const points = predictions[0]?.mean.length ?? 0;
  const met = new Float64Array(points);
  const off = new Float64Array(points);
  for (const { attribute, place, target } of aimedAt(attributes)) {
    if (target.kind === 'most' || target.kind === 'least') continue;
    const own = target.kind === 'reference' ? reference[place] : null;
    if (target.kind === 'reference' && !own) continue;
    const unit = scaleLength(attribute) / 100;
    const { mean, standardError } = predictions[place]!;
    for (let i = 0; i < points; i++) {
      const goal =
        target.kind === 'value'
          ? target.value
          : target.kind === 'range'
            ? Math.min(target.high, Math.max(target.low, mean[i]!))
            : own!.mean;
      const gap = (goal - mean[i]!) / unit;
      const variance = (standardError[i]! ** 2 + (own?.variance ?? 0)) / unit ** 2 + GRAIN ** 2;
      const near = logNormal(gap, variance);
      met[i]! += near;
      off[i]! += Math.log(
        (1 - OFF_SHARE) * Math.exp(near) + OFF_SHARE * Math.exp(logNormal(gap, variance + OFF_POINTS ** 2)),
      );
    }
  }
  const order = Array.from(met, (_, i) => i).sort((a, b) => met[b]! - met[a]! || a - b);
  const places = order.slice(0, KEPT);
  const most = met[places[0]!] ?? 0;
  const weights = places.map((i) => Math.exp(met[i]! - most));
  const total = weights.reduce((a, b) => a + b, 0);
  const odds = (PRIOR / (1 - PRIOR)) * Math.exp(logSum(met) - logSum(off));
  return {
    places,
    shares: weights.map((w) => w / total),
    reachable: points === 0 ? 0 : odds / (1 + odds),
  };
}

function logNormal(gap: number, variance: number): number {
  return -0.5 * (gap ** 2 / variance + Math.log(2 * Math.PI * variance));
}

function logSum(logs: Float64Array): number {
  const most = logs.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  return most + Math.log(logs.reduce((sum, v) => sum + Math.exp(v - most), 0));
}

/**
 * Draws that know of the target: the share `reachable` of them is conditioned on meeting it at one of the anchors,
 * each draw by the linear update of its own gap (Matheron's rule; Wilson and others 2020), covariances from the draws.
 *
 * @param draws joint draws whose last points are the anchors, in their order
 * @returns draws at the points before the anchors
 */
export function knowingTarget(
  attributes: readonly Attribute[],
  draws: ScoreDraws,
  anchors: Anchors,
  random: Random,
): ScoreDraws {
  const points = draws.points - anchors.places.length;
  const chosen = chooseAnchors(draws.count, anchors, random);
  const reference = draws.reference.map((own) => own?.slice() ?? null);
  const scores = draws.scores.map((own, k) => {
    const out = new Float64Array(draws.count * points);
    for (let s = 0; s < draws.count; s++)
      out.set(own.subarray(s * draws.points, s * draws.points + points), s * points);
    const target = attributes[k]!.target;
    if (!target || target.kind === 'most' || target.kind === 'least') return out;
    const grain = (GRAIN * scaleLength(attributes[k]!)) / 100;
    const ref = target.kind === 'reference' ? reference[k]! : null;
    if (target.kind === 'reference' && !ref) return out;
    const gapAt = (s: number, a: number): number => {
      const score = own[s * draws.points + points + a]!;
      if (target.kind === 'value') return target.value - score;
      if (target.kind === 'range') return Math.min(target.high, Math.max(target.low, score)) - score;
      return draws.reference[k]![s]! - score;
    };
    anchors.places.forEach((_, a) => {
      const these: number[] = [];
      for (let s = 0; s < draws.count; s++) if (chosen[s] === a) these.push(s);
      if (these.length === 0) return;
      const gain = gainsOf(own, { draws, points, a, reference: ref && draws.reference[k]!, grain });
      for (const s of these) {
        const gap = gapAt(s, a) + grain * random.normal();
        for (let i = 0; i < points; i++) out[s * points + i]! += gain.scores[i]! * gap;
        if (ref) ref[s]! += gain.reference * gap;
      }
    });
    return out;
  });
  return { count: draws.count, points, scores, reference };
}

/** How far each point follows a gap at an anchor. */
function gainsOf(
  own: Float64Array,
  by: { draws: ScoreDraws; points: number; a: number; reference: Float64Array | null; grain: number },
): { scores: Float64Array; reference: number } {
  const { draws, points, a, reference, grain } = by;
  const { count } = draws;
  const value = Float64Array.from({ length: count }, (_, s) => {
    return own[s * draws.points + points + a]! - (reference?.[s] ?? 0);
  });
  const mean = value.reduce((x, y) => x + y, 0) / count;
  const centred = value.map((v) => v - mean);
  const variance = centred.reduce((sum, v) => sum + v * v, 0) / count + grain ** 2;
  const scores = new Float64Array(points);
  let ownReference = 0;
  for (let s = 0; s < count; s++) {
    const c = centred[s]!;
    const from = s * draws.points;
    for (let i = 0; i < points; i++) scores[i]! += c * own[from + i]!;
    if (reference) ownReference += c * reference[s]!;
  }
  for (let i = 0; i < points; i++) scores[i]! /= count * variance;
  return { scores, reference: ownReference / (count * variance) };
}

/** By draw: the anchor it is conditioned on, or -1 where the target is taken to be out of reach. */
function chooseAnchors(count: number, { shares, reachable }: Anchors, random: Random): Int32Array {
  const chosen = new Int32Array(count).fill(-1);
  const order = random.shuffle(Array.from({ length: count }, (_, s) => s));
  let reached = 0;
  let from = 0;
  shares.forEach((share, a) => {
    reached += share * reachable;
    const to = Math.round(reached * count);
    for (let place = from; place < to; place++) chosen[order[place]!] = a;
    from = Math.max(from, to);
  });
  return chosen;
}
