import type { Attribute, Serving, Target } from '../../engine/panel/observations.ts';
import type { BlendSpace } from '../../engine/region/blend-space.ts';
import { type NamedStream, namedStream } from '../../trials/demo/named-stream.ts';
import { psychophysicalTruth, type Truth } from './psychophysical-truth.ts';
import { specialCubicTruth } from './special-cubic-truth.ts';
import { type Aim, minimise, trueDistance, trulyMatches } from './world-distance.ts';
import { drawPanel, panelAverage, type TrueCup, tasteSitting, type WorldPanel } from './world-panel.ts';
import { type DrawnSpace, drawSpace } from './world-space.ts';

export const WORLD_FAMILIES = ['psychophysical', 'special-cubic'] as const;
export type WorldFamily = (typeof WORLD_FAMILIES)[number];

/** A mix to be tasted: what really is in the bottle, and its settings. */
export interface PouredMix {
  mix: string;
  shares: readonly number[];
  settings: readonly number[];
}

/** A simulated flavour world: what may be mixed, what is aimed at, and a panel that tastes a known truth. */
export interface World {
  seed: number;
  family: WorldFamily;
  space: BlendSpace;
  batch: { grams: number; readability: number };
  attributes: Attribute[];
  /** True where some ratio of the region meets every target exactly. */
  attainable: boolean;
  /** True scores for tasters at large. */
  truth: Truth;
  /** True scores of the reference drink, where the targets are its; else null. */
  reference: readonly number[] | null;
  panel: WorldPanel;
  /** What this panel's own assessors give on average at a blend, their lasting habits included. */
  panelTruth: Truth;
  /** Distance to the targets as this panel scores, and for tasters at large (reference targets only). */
  distance(shares: readonly number[], settings: readonly number[]): number;
  distanceAtLarge(shares: readonly number[], settings: readonly number[]): number | null;
  matches(shares: readonly number[], settings: readonly number[]): boolean;
  /** The smallest distance that any ratio of the region has, as this panel scores. */
  bestDistance: number;
  /** Points spread evenly over the region; the hidden one is among them, so no method may look here. */
  points: readonly { shares: number[]; settings: number[] }[];
  /** Weighs a planned mix: what lands in the bottle, and what the balance shows of it. */
  weigh(planned: readonly number[], name: string): { real: number[]; shown: number[] };
  /** One sitting of these mixes, with the reference among them where the world has one. */
  taste(mixes: readonly PouredMix[], at: { session: string; seed: number }): Serving[];
}

export interface WorldChoice {
  family?: WorldFamily;
  /** Pour the reference instead of giving numbers. */
  reference?: boolean;
  assessors?: number;
}

const ATTAINABLE_SHARE = 0.7;

/** The world of a seed: the same seed and choice always give the same world. */
export function makeWorld(seed: number, choice: WorldChoice = {}): World {
  const family = choice.family ?? WORLD_FAMILIES[seed % 2]!;
  for (let attempt = 0; ; attempt++) {
    const stream = namedStream(seed, 'world', family, attempt);
    const world = tryWorld({ seed, family, stream, choice });
    if (world) return world;
  }
}

interface Draw {
  seed: number;
  family: WorldFamily;
  stream: NamedStream;
  choice: WorldChoice;
}

/** Null where an attribute hardly moves over the region, or targets meant to be out of reach are not. */
function tryWorld({ seed, family, stream, choice }: Draw): World | null {
  const attainable = namedStream(seed, 'attainable').uniform() < ATTAINABLE_SHARE;
  const drawn = drawSpace(stream);
  const count = 4 + Math.floor(5 * stream.uniform());
  const hidden = anyOf(drawn.points, stream);
  const likingAimed = !choice.reference && stream.uniform() < 0.5;
  const idealAt = likingAimed ? hidden : anyOf(drawn.points, stream);
  const { truth, liking } =
    family === 'psychophysical'
      ? psychophysicalTruth(drawn, count, idealAt, stream)
      : { truth: specialCubicTruth(drawn, count, stream), liking: null };
  const everywhere = drawn.points.map((p) => truth(p.shares, p.settings));
  if (!everyAttributeMoves(everywhere)) return null;
  const pivots = Array.from({ length: count }, (_, k) => mean(everywhere.map((scores) => scores[k]!)));
  const panel = drawPanel(seed, choice.assessors ?? 6, pivots, stream);
  const panelTruth: Truth = (shares, settings) => panelAverage(panel, truth(shares, settings));
  const wish = wishOf(truth(hidden.shares, hidden.settings), attainable, { liking, stream });
  const reference = choice.reference ? wish : null;
  const aimed = panelAverage(panel, wish);
  const attributes = aimed.map((value, k) =>
    attributeOf(k, value, { liking, likingAimed, reference, stream }),
  );
  const parts = { seed, family, drawn, attributes, attainable, truth, reference, panel, panelTruth };
  const world = assemble(parts, stream);
  return attainable || world.bestDistance > 1 ? world : null;
}

type Parts = Pick<
  World,
  'seed' | 'family' | 'attributes' | 'attainable' | 'truth' | 'reference' | 'panel' | 'panelTruth'
> & { drawn: DrawnSpace };

function assemble(parts: Parts, stream: NamedStream): World {
  const { drawn, panel, truth, panelTruth, reference, attributes } = parts;
  const { space, points } = drawn;
  const aim: Aim = {
    attributes,
    reference: reference && panelAverage(panel, reference),
    reach: reachOf(attributes, panelTruth, drawn, stream),
  };
  const distance = (shares: readonly number[], settings: readonly number[]) =>
    trueDistance(aim, panelTruth(shares, settings));
  const best = minimise(space, (p) => distance(p.shares, p.settings), points, stream);
  return {
    ...parts,
    space,
    points,
    batch: { grams: 4, readability: 0.01 },
    distance,
    distanceAtLarge: (shares, settings) =>
      reference && trueDistance({ ...aim, reference }, truth(shares, settings)),
    matches: (shares, settings) => trulyMatches(aim, panelTruth(shares, settings)),
    bestDistance: parts.attainable ? 0 : best.value,
    weigh: (planned, name) => weigh(planned, namedStream(parts.seed, 'weigh', name)),
    taste: (mixes, at) => tasteSitting(panel, cupsOf(mixes, truth, reference), at),
  };
}

function cupsOf(mixes: readonly PouredMix[], truth: Truth, reference: readonly number[] | null): TrueCup[] {
  const cups = mixes.map(({ mix, shares, settings }) => ({ mix, scores: truth(shares, settings) }));
  return reference ? [...cups, { mix: 'reference', scores: reference }] : cups;
}

/** Hands land within about two steps of the plan; the balance then errs by a step over the root of six. */
function weigh(planned: readonly number[], stream: NamedStream): { real: number[]; shown: number[] } {
  const step = 0.01;
  const real = planned.map((grams) => Math.max(0, grams + stream.normal(1.2 * step)));
  const shown = real.map((grams) => {
    return Math.max(0, Math.round((grams + stream.normal(step / Math.sqrt(6))) / step)) / (1 / step);
  });
  return { real, shown };
}

/** The profile that is aimed at: that of a hidden ratio, moved off in one to three attributes where out of reach. */
function wishOf(
  hidden: readonly number[],
  attainable: boolean,
  by: { liking: number | null; stream: NamedStream },
): number[] {
  const wish = [...hidden];
  if (attainable) return wish;
  const moved = 1 + Math.floor(3 * by.stream.uniform());
  for (let m = 0; m < moved; m++) {
    const k = Math.floor(wish.length * by.stream.uniform());
    if (k === by.liking) continue;
    const sign = by.stream.uniform() < 0.5 ? -1 : 1;
    wish[k] = Math.min(97, Math.max(3, wish[k]! + sign * (8 + 14 * by.stream.uniform())));
  }
  return wish;
}

function attributeOf(
  k: number,
  value: number,
  by: {
    liking: number | null;
    likingAimed: boolean;
    reference: readonly number[] | null;
    stream: NamedStream;
  },
): Attribute {
  const { stream } = by;
  const id = k === by.liking ? 'liking' : `a${k + 1}`;
  const common = { id, scale: [0, 100] as const, tolerance: 8, weight: 1 };
  // liking is aimed at only where its ideal is the hidden ratio, so that the targets can be met together
  if (k === by.liking) return { ...common, target: by.likingAimed ? { kind: 'most' } : null };
  if (by.reference) return { ...common, target: { kind: 'reference' } };
  const weight = [0.5, 1, 1, 1, 1.5][Math.floor(5 * stream.uniform())]!;
  return { ...common, weight, target: targetOf(value, stream) };
}

function targetOf(value: number, stream: NamedStream): Target {
  if (stream.uniform() < 0.85) return { kind: 'value', value };
  const width = 8 + 6 * stream.uniform();
  const low = Math.max(0, value - width * stream.uniform());
  return { kind: 'range', low, high: Math.min(100, low + width) };
}

/** The most and the least of each attribute that is to be as high or low as it goes; the others need neither. */
function reachOf(
  attributes: readonly Attribute[],
  panelTruth: Truth,
  drawn: DrawnSpace,
  stream: NamedStream,
): Aim['reach'] {
  return attributes.map(({ target }, k) => {
    if (target?.kind !== 'most' && target?.kind !== 'least') return { least: 0, most: 100 };
    const score = (p: { shares: number[]; settings: number[] }) => panelTruth(p.shares, p.settings)[k]!;
    return {
      least: minimise(drawn.space, score, drawn.points, stream).value,
      most: -minimise(drawn.space, (p) => -score(p), drawn.points, stream).value,
    };
  });
}

function anyOf<T>(list: readonly T[], stream: NamedStream): T {
  return list[Math.floor(list.length * stream.uniform())]!;
}

function everyAttributeMoves(everywhere: readonly number[][]): boolean {
  return everywhere[0]!.every((_, k) => {
    const scores = everywhere.map((row) => row[k]!).sort((a, b) => a - b);
    const at = (share: number) => scores[Math.floor(share * scores.length)]!;
    return at(0.975) - at(0.025) > 12;
  });
}

function mean(list: readonly number[]): number {
  return list.reduce((a, b) => a + b, 0) / list.length;
}
