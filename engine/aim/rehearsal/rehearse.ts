import { exactInterval } from '../../difference/critical.ts';
import { EngineError } from '../../errors.ts';
import { checkpoint, type Hooks } from '../../hooks.ts';
import type { Point, ScoreDraws } from '../../model/posterior-types.ts';
import type { LinearSolver } from '../../numeric/linear-solver.ts';
import { createRandom, type Random } from '../../numeric/random.ts';
import { type Attribute, REFERENCE, type Serving, type WeighedMix } from '../../panel/observations.ts';
import type { BlendSpace } from '../../region/blend-space.ts';
import { describeRegion } from '../../region/describe-region.ts';
import type { Region } from '../../region/region.ts';
import { samplePlaces } from '../../region/sampling.ts';
import type { Batch, Stocks } from '../../region/weighable.ts';
import { aimPosterior } from '../aim-posterior.ts';
import { distanceDraws } from '../distance-draws.ts';
import { LIGHT_EFFORT } from '../effort.ts';
import type { Recipe, RecipeSource } from '../recipe.ts';
import { RegionRecipes } from '../region-recipes.ts';
import { searchBatch } from '../search-batch.ts';
import { aimedAt, comparesWithReference } from '../target-miss.ts';
import { type InventedPanel, inventPanel, type PanelNoise } from './invented-panel.ts';
import { DIFFICULTY_SAYS, type Difficulty, inventTruth, type Truth } from './invented-truth.ts';

export interface RehearsalInput {
  space: BlendSpace;
  batch: Batch;
  stocks?: Stocks | undefined;
  attributes: readonly Attribute[];
  /** What would be weighed first, in the order of the plan. */
  first: readonly Recipe[];
  assessors: number;
  replicates: number;
  cupsPerSitting: number;
  /** Rounds of our own after the first plan, and mixes in each. */
  rounds: number;
  each: number;
  /** By attribute. */
  noise: readonly PanelNoise[];
  difficulty: Difficulty;
  /** How many invented truths are played. */
  truths: number;
  seed: number;
}

/** How often the target was found when so many mixes had been tasted. */
export interface RehearsedStage {
  /** 0 = the first plan alone. */
  rounds: number;
  mixes: number;
  cups: number;
  /** Truths in which the ratio that would have been settled on lies within tolerance on all that is aimed at. */
  found: number;
  share: number;
  /** Monte Carlo standard error of the share, √(p(1-p)/n), and its exact 95 % interval (Clopper and Pearson 1934). */
  standardError: number;
  interval: [number, number];
  /** Mean true distance of that ratio to the target, in points of 100. */
  distance: number;
}

export interface Rehearsal {
  difficulty: Difficulty;
  /** What was invented, in plain words. */
  says: string;
  truths: number;
  stages: RehearsedStage[];
}

const COVER = 200;
/** Points among which the place of the target is looked for. */
const EVERYWHERE = 150;

/**
 * Plays the plan before anything is weighed: invented truths, all with a ratio that meets the target, are tasted by a
 * simulated panel of this size, first with the plan's mixes and then in rounds of our own, and after each stage the
 * ratio that would be settled on is held against the truth. The search is that of the next mixes on fewer candidates.
 * The n-th truth and its tasters are the same whatever the plan, so that plans and panels compare on like terms.
 *
 * @throws EngineError `bad-argument`; `no-data` where nothing is aimed at; `empty-region`; `cancelled`
 */
export function rehearse(
  input: RehearsalInput,
  { solver }: { solver: LinearSolver },
  hooks?: Hooks,
): Rehearsal {
  check(input);
  const region = describeRegion(input.space, solver);
  const aimed = aimedAt(input.attributes);
  const attributes = aimed.map(({ attribute }) => attribute);
  const by: Setting = {
    input,
    attributes,
    noise: aimed.map(({ place }) => input.noise[place]!),
    region,
    cover: samplePlaces(region, createRandom(input.seed, 'rehearsal cover'), COVER),
    source: new RegionRecipes(region, input.batch, solver, input.stocks),
  };
  const played = Array.from({ length: input.truths }, (_, t) => {
    const said = (round: number) =>
      checkpoint(
        hooks,
        (t + round / (input.rounds + 1)) / input.truths,
        `tasting invented truth ${t + 1} of ${input.truths}`,
      );
    return playTruth(by, createRandom(input.seed, `truth ${t}`), said);
  });
  const stages = played[0]!.map((_, s) =>
    stageOf(
      played.map((own) => own[s]!),
      s,
    ),
  );
  return {
    difficulty: input.difficulty,
    says: DIFFICULTY_SAYS[input.difficulty],
    truths: input.truths,
    stages,
  };
}

interface Setting {
  input: RehearsalInput;
  /** Those that are aimed at, with their noise. */
  attributes: readonly Attribute[];
  noise: readonly PanelNoise[];
  region: Region;
  cover: readonly Point[];
  source: RecipeSource;
}

interface PlayedStage {
  mixes: number;
  cups: number;
  found: boolean;
  distance: number;
}

function playTruth(by: Setting, random: Random, said: (round: number) => void): PlayedStage[] {
  const { input, attributes, cover } = by;
  const { truth, hidden } = inventTruth(attributes, { ...by, ...input, random: random.fork('truth') });
  const pivots = truth(hidden);
  const panel = inventPanel(attributes, { ...by, ...input, pivots, random: random.fork('panel') });
  const judge = judgeOf(attributes, truth, [...cover, hidden], pivots);
  const mixes: WeighedMix[] = [];
  const servings: Serving[] = [];
  const stages: PlayedStage[] = [];
  let wanted: readonly (Recipe & { again?: string })[] = input.first;
  for (let round = 0; round <= input.rounds; round++) {
    said(round);
    const names = wanted.map((one, i) => one.again ?? `m${mixes.length + i + 1}`);
    wanted.forEach(({ again, shares, settings }, i) => {
      if (again === undefined) mixes.push({ mix: names[i]!, blend: names[i]!, shares, settings });
    });
    servings.push(...tasted(by, { names, mixes, truth, pivots, panel, round }));
    const count = round < input.rounds ? input.each : 0;
    const found = step(by, { mixes, servings, count, random: random.fork(`round ${round}`) });
    stages.push({ mixes: mixes.length, cups: servings.length, ...judge(found.best) });
    wanted = found.wanted;
  }
  return stages;
}

/** The round's sittings, the reference among each where something is compared with it. */
function tasted(
  { input, attributes }: Setting,
  by: {
    names: readonly string[];
    mixes: readonly WeighedMix[];
    truth: Truth;
    pivots: readonly number[];
    panel: InventedPanel;
    round: number;
  },
): Serving[] {
  const { names, mixes, truth, pivots, panel, round } = by;
  const withReference = comparesWithReference(attributes);
  const room = Math.max(1, input.cupsPerSitting - Number(withReference));
  const sittings = Math.ceil(names.length / room);
  return Array.from({ length: sittings }, (_, s) => {
    const cups = names.slice(s * room, (s + 1) * room).map((name) => {
      return { mix: name, scores: truth(mixes.find(({ mix }) => mix === name)!) };
    });
    const all = withReference ? [...cups, { mix: REFERENCE, scores: pivots }] : cups;
    return panel.taste(all, `round ${round + 1}, sitting ${s + 1}`, input.replicates);
  }).flat();
}

/** What would be settled on, and what would be made next, from the scores alone. */
function step(
  { input, attributes, region, source }: Setting,
  by: {
    mixes: readonly WeighedMix[];
    servings: readonly Serving[];
    count: number;
    random: Random;
  },
): { best: Recipe; wanted: (Recipe & { again?: string })[] } {
  const { mixes, servings, count, random } = by;
  const { posterior } = aimPosterior(
    {
      space: input.space,
      region,
      mixes,
      servings,
      attributes,
      model: 'process',
      names: {},
      seed: input.seed,
    },
    EVERYWHERE,
  );
  const { list, best, batch } = searchBatch({
    attributes,
    mixes,
    waiting: [],
    posterior,
    source,
    count,
    onHand: input.space.components.map(() => Infinity),
    effort: LIGHT_EFFORT,
    random,
  });
  const recipeAt = (point: number): Recipe & { again?: string } => {
    const fresh = list.recipes[point];
    if (fresh) return fresh;
    const old = mixes[point - list.recipes.length]!;
    return { ...old, again: old.mix };
  };
  return { best: recipeAt(best), wanted: batch.points.map(recipeAt) };
}

/** Holds a recipe against the truth; what is to be most or least is compared with the best of the points given. */
function judgeOf(
  attributes: readonly Attribute[],
  truth: Truth,
  points: readonly Point[],
  reference: readonly number[],
): (recipe: Recipe) => { found: boolean; distance: number } {
  const around = points.map(truth);
  return (recipe) => {
    const rows = [truth(recipe), ...around];
    const draw: ScoreDraws = {
      count: 1,
      points: rows.length,
      scores: attributes.map((_, k) => Float64Array.from(rows, (scores) => scores[k]!)),
      reference: reference.map((score) => Float64Array.of(score)),
    };
    const { matches, distance } = distanceDraws(attributes, draw, 1);
    return { found: matches[0] === 1, distance: distance[0]! };
  };
}

function stageOf(all: readonly PlayedStage[], rounds: number): RehearsedStage {
  const { mixes, cups } = all[0]!;
  const n = all.length;
  const found = all.filter((one) => one.found).length;
  const share = found / n;
  return {
    rounds,
    mixes,
    cups,
    found,
    share,
    standardError: Math.sqrt((share * (1 - share)) / n),
    interval: exactInterval(found, n),
    distance: all.reduce((sum, { distance }) => sum + distance, 0) / n,
  };
}

function check(input: RehearsalInput): void {
  const whole = (argument: keyof RehearsalInput, least: number) => {
    const value = input[argument];
    if (!Number.isInteger(value) || (value as number) < least)
      throw new EngineError('bad-argument', argument, value, `a whole number from ${least} up`);
  };
  whole('truths', 1);
  whole('rounds', 0);
  whole('each', 1);
  whole('assessors', 1);
  whole('replicates', 1);
  whole('cupsPerSitting', 1);
  if (input.first.length === 0) throw new EngineError('bad-argument', 'first', 0, 'at least one planned mix');
  if (input.attributes.every(({ target }) => target === null))
    throw new EngineError('no-data', 'attributes', [], 'at least one attribute with a target');
}
