import { checkpoint, type Hooks } from '../hooks.ts';
import type { PanelPosterior } from '../model/posterior-types.ts';
import type { Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { WeighedMix } from '../region/weighed-mix.ts';
import { bestPoint } from './best-recipe.ts';
import { type BatchSetup, type ChosenBatch, chooseBatch } from './choose-batch.ts';
import { meanOf } from './describe-recipe.ts';
import { matchChance } from './distance-draws.ts';
import { ALIKE, type DrawTable, drawTable, noiseOf, tasteGap } from './draw-table.ts';
import type { Effort } from './effort.ts';
import { highestChance } from './highest-chance.ts';
import type { RecipeSource, WeighableRecipe } from './recipe.ts';
import { type Shortlist, shortlist } from './shortlist.ts';
import { isConfirmed } from './stop-evidence.ts';
import { comparesWithReference } from './target-miss.ts';

/** What the search rests on once the models are fitted. */
export interface SearchSetup {
  /** As they can be aimed at. */
  attributes: readonly Attribute[];
  /** Mixes tasted so far. */
  mixes: readonly WeighedMix[];
  /** Mixes that are weighed and wait to be tasted: nothing like them is proposed again. */
  waiting: readonly WeighedMix[];
  posterior: PanelPosterior;
  source: RecipeSource;
  /** How many to choose; 0 looks for the best ratio alone. */
  count: number;
  /** Grams on hand, in the order of the components; infinite where nothing is short. */
  onHand: readonly number[];
  effort: Effort;
  random: Random;
}

/** What was found: places count the shortlist, then the tasted mixes. */
export interface FoundBatch {
  /** Expected scores of the reference by place on the ballot. */
  reference: readonly (number | null)[];
  list: Shortlist;
  table: DrawTable;
  /** What to make if tasting stopped now. */
  best: number;
  batch: ChosenBatch;
}

const REFERENCE_DRAWS = 256;
/** From this part of the highest chance on, the best ratio itself is the first to be made. */
const CONFIRM_FROM = 0.75;
/** Weight of learning against improvement. */
const LEARNING = 0.3;

/** The mixes most worth tasting next, and the ratio to settle on if tasting stopped now. */
export function searchBatch(setup: SearchSetup, hooks?: Hooks): FoundBatch {
  const { attributes, posterior, onHand, effort, random } = setup;
  checkpoint(hooks, 0.4, 'looking over the region');
  const reference = referenceMeans(setup);
  const affordable = (recipe: WeighableRecipe) => enough([recipe], onHand);
  const by = { attributes, reference, affordable, effort, random };
  const list = shortlist(setup.source, posterior, by);
  checkpoint(hooks, 0.6, 'drawing what the mixes may taste like');
  const table = drawTable(list, { ...setup, random: random.fork('table') });
  const best = bestPoint(table.distances, list.finalists);
  checkpoint(hooks, 0.7, 'choosing the next mixes');
  const batch = chooseBatch(batchSetup(setup, { list, table, best }), setup.count);
  return { reference, list, table, best, batch };
}

function referenceMeans({ attributes, mixes, posterior, random }: SearchSetup): (number | null)[] {
  if (!comparesWithReference(attributes)) return attributes.map(() => null);
  const anywhere = mixes[0]!;
  const { reference } = posterior.draws([anywhere], REFERENCE_DRAWS, random.fork('reference'));
  return reference.map(meanOf);
}

function batchSetup(
  { attributes, posterior, onHand, random }: SearchSetup,
  { list, table, best }: Pick<FoundBatch, 'list' | 'table' | 'best'>,
): BatchSetup {
  const { distances, existing, waiting } = table;
  return {
    draws: distances,
    fresh: list.recipes.map((_, i) => i),
    existing,
    waiting,
    finalists: [...new Set([...list.finalists, best])],
    noise: noiseOf(attributes, posterior, distances),
    learning: LEARNING,
    first: toConfirm(attributes, table, best) ? best : null,
    affordable: (points: readonly number[]) =>
      enough(
        points.flatMap((i) => list.recipes[i] ?? []),
        onHand,
      ),
    alike: (a: number, b: number) => tasteGap(attributes, table, a, b) < ALIKE,
    random: random.fork('learning'),
  };
}

/** Whether what is on hand suffices for all of these mixes together. */
function enough(recipes: readonly WeighableRecipe[], onHand: readonly number[]): boolean {
  return onHand.every((grams, c) => {
    return recipes.reduce((sum, recipe) => sum + recipe.grams[c]!, 0) <= grams + 1e-9;
  });
}

/** The last rounds lean to confirmation: a best ratio that is likely to match, and that nobody has tasted, goes first. */
function toConfirm(attributes: readonly Attribute[], table: DrawTable, best: number): boolean {
  const chance = matchChance(table.distances, best);
  const highest = highestChance(attributes, table.scores, best);
  if (chance === 0 || chance < CONFIRM_FROM * highest) return false;
  const { existing, waiting } = table;
  return !isConfirmed(attributes, { ...table, existing: [...existing, ...waiting] }, best);
}
