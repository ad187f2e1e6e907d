import type { PanelPosterior } from '../model/posterior-types.ts';
import type { Attribute } from '../panel/observations.ts';
import type { Names } from '../region/limits.ts';
import type { WeighedMix } from '../region/weighed-mix.ts';
import type { ChosenBatch } from './choose-batch.ts';
import type { Described } from './describe-recipe.ts';
import { type DistanceDraws, matchChance } from './distance-draws.ts';
import { type DrawTable, noiseOf, tasteGap } from './draw-table.ts';
import { heldBack } from './held-back.ts';
import { highestChance } from './highest-chance.ts';
import type { NextResult } from './next-types.ts';
import type { RelaxedLimit } from './relaxed-limits.ts';
import { stopAdvice } from './stopping.ts';

export interface StopSetup {
  attributes: readonly Attribute[];
  names: Names;
  posterior: PanelPosterior;
  mixes: readonly WeighedMix[];
  /** Blends it takes to tell every component and setting apart. */
  blendsNeeded: number;
  missing: readonly string[];
  table: DrawTable;
  /** The best ratio's place in the table; it is the first of those described. */
  best: number;
  batch: ChosenBatch;
  described: Described;
  relax(): RelaxedLimit[];
}

/** The same below which one mix confirms another: root mean square difference in percent of the scales. */
const LIKE = 2.5;
/** From this part of the highest chance on nothing holds the best ratio back. */
const NEAR = 0.75;

/** Gathers what the advice rests on, and gives it. */
export function stopOf(setup: StopSetup): NextResult['stop'] {
  const { attributes, posterior, table, batch, described, mixes } = setup;
  const highest = highestChance(attributes, described.scores, 0);
  const chance = matchChance(described.distances, 0);
  const { weights, weightOf } = table.distances;
  const noises = noiseOf(attributes, posterior, table.distances);
  const noise = noises.reduce((sum, v, k) => sum + weights[k]! * v, 0) / weightOf;
  const blends = new Set(mixes.map(({ blend }) => blend)).size;
  const short = chance < NEAR * highest && blends >= setup.blendsNeeded;
  const holdsBack = short
    ? heldBack(attributes, table.distances, { point: setup.best, names: setup.names })
    : [];
  const limits = short ? setup.relax() : [];
  const advice = stopAdvice({
    chance,
    highestChance: highest,
    before: batch.before,
    after: batch.after,
    panelStep: Math.sqrt(noise),
    confirmed: isConfirmed(attributes, table, setup.best),
    reachable: reachable(table.distances),
    blends,
    blendsNeeded: setup.blendsNeeded,
    doubt: doubtOf(attributes, described),
    missing: setup.missing,
    holdsBack,
    limits,
  });
  const { before, after } = batch;
  return { ...advice, highestChance: highest, before, after, holdsBack, limits };
}

/** Whether some tasted mix differs from the best by less than a panel tells apart in a few cups. */
export function isConfirmed(attributes: readonly Attribute[], table: DrawTable, best: number): boolean {
  return table.existing.some((i) => tasteGap(attributes, table, i, best) < LIKE);
}

/** Share of draws in which some point matches. */
function reachable({ count, points, matches }: DistanceDraws): number {
  let met = 0;
  for (let s = 0; s < count; s++) if (matches.subarray(s * points, (s + 1) * points).includes(1)) met++;
  return met / count;
}

/** Root mean square standard error of the aimed attributes at the best ratio, each in its tolerance. */
function doubtOf(attributes: readonly Attribute[], { predictions, distances }: Described): number {
  const squares = distances.places.map((place) => {
    return (predictions[place]!.standardError[0]! / attributes[place]!.tolerance) ** 2;
  });
  return Math.sqrt(squares.reduce((a, b) => a + b, 0) / Math.max(1, squares.length));
}
