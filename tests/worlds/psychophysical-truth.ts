import type { NamedStream } from '../../trials/demo/named-stream.ts';
import type { DrawnSpace } from './world-space.ts';

/** Scores of every attribute on 0..100 at any shares and settings, before anybody's habits. */
export type Truth = (shares: readonly number[], settings: readonly number[]) => number[];

interface Curve {
  feeds: number[];
  covers: number[];
  steepness: number;
  gain: number;
}

interface Ideal {
  scores: number[];
  widths: number[];
  most: number;
}

/** Share of worlds whose last attribute is liking with an ideal point. */
const WITH_LIKING = 0.5;

/**
 * A world of dose-response curves: each attribute is fed by one to three components and covered by some of the
 * others, score = 100 dⁿ/(1 + dⁿ), d = gain·Σ feedᵢ uᵢ / (1 + Σ coverᵢ uᵢ), uᵢ = amount of i over its typical
 * amount (so a component typically present at a hundredth counts as much as one at a half). In half of the worlds
 * the last attribute is liking, which falls off around the profile that `idealAt` has.
 */
export function psychophysicalTruth(
  drawn: DrawnSpace,
  attributes: number,
  idealAt: { shares: number[]; settings: number[] },
  stream: NamedStream,
): { truth: Truth; liking: number | null } {
  const withLiking = stream.uniform() < WITH_LIKING;
  const described = withLiking ? attributes - 1 : attributes;
  const q = drawn.typical.length;
  const curves = Array.from({ length: described }, (_, k) => drawCurve(q, k % q, stream));
  const intensities: Truth = (shares, settings) => {
    const amount = settings.length > 0 ? settings[0]! / 0.25 : 1;
    const u = shares.map((share, i) => (amount * share) / drawn.typical[i]!);
    return curves.map((curve) => respond(curve, u));
  };
  if (!withLiking) return { truth: intensities, liking: null };
  const ideal = drawIdeal(intensities(idealAt.shares, idealAt.settings), stream);
  const truth: Truth = (shares, settings) => {
    const scores = intensities(shares, settings);
    return [...scores, likingOf(ideal, scores)];
  };
  return { truth, liking: described };
}

function drawCurve(q: number, main: number, stream: NamedStream): Curve {
  const feeds = Array.from({ length: q }, (_, i) => {
    if (i === main) return 0.8 + 0.5 * stream.uniform();
    return stream.uniform() < 0.3 ? 0.15 + 0.5 * stream.uniform() : 0;
  });
  const covers = feeds.map((feed) =>
    feed === 0 && stream.uniform() < 0.6 ? 0.05 + 0.35 * stream.uniform() : 0,
  );
  const atTypical = sum(feeds) / (1 + sum(covers));
  // the curve passes 25 to 75 at the typical blend
  const steepness = 0.9 + 1.1 * stream.uniform() + (stream.uniform() < 0.15 ? 1 : 0);
  const middle = 0.25 + 0.5 * stream.uniform();
  const gain = (middle / (1 - middle)) ** (1 / steepness) / atTypical;
  return { feeds, covers, steepness, gain };
}

function respond(curve: Curve, u: readonly number[]): number {
  let fed = 0;
  let covered = 0;
  for (let i = 0; i < u.length; i++) {
    fed += curve.feeds[i]! * u[i]!;
    covered += curve.covers[i]! * u[i]!;
  }
  const power = ((curve.gain * fed) / (1 + covered)) ** curve.steepness;
  return (100 * power) / (1 + power);
}

function drawIdeal(scores: number[], stream: NamedStream): Ideal {
  return { scores, widths: scores.map(() => 18 + 22 * stream.uniform()), most: 75 + 15 * stream.uniform() };
}

function likingOf(ideal: Ideal, scores: readonly number[]): number {
  const squares = scores.map((score, i) => ((score - ideal.scores[i]!) / ideal.widths[i]!) ** 2);
  return 15 + (ideal.most - 15) * Math.exp(-0.5 * sum(squares));
}

function sum(list: readonly number[]): number {
  return list.reduce((a, b) => a + b, 0);
}
