import type { Evidence, Method, Recipe } from '../../tests/worlds/baselines/baseline.ts';
import { oneLargeDesign } from '../../tests/worlds/baselines/one-large-design.ts';
import { processOnOverallMiss } from '../../tests/worlds/baselines/overall-miss.ts';
import { processPerAttribute, ridgePerAttribute } from '../../tests/worlds/baselines/per-attribute.ts';
import { oneAtATime, randomMixes } from '../../tests/worlds/baselines/plain-searches.ts';
import { halfSpacesOf } from '../../tests/worlds/hit-and-run.ts';
import { chancesAnywhere, ourSearch, type Said } from '../../tests/worlds/our-search.ts';
import { play, type Standing } from '../../tests/worlds/play.ts';
import { makeWorld, type World } from '../../tests/worlds/world.ts';
import { loadSolver } from '../../trials/solver.ts';

/** The two strong baselines come first. */
export const BASELINES: readonly Method[] = [
  processPerAttribute,
  ridgePerAttribute,
  processOnOverallMiss,
  oneLargeDesign,
  oneAtATime,
  randomMixes,
];

export interface WorldTask {
  seed: number;
  reference: boolean;
  /** Names of the baselines to play. */
  baselines: readonly string[];
}

/** A chance that was told, where, and whether the ratio does match. */
export interface ToldChance {
  where: 'anywhere' | 'proposal' | 'best';
  chance: number;
  matches: boolean;
}

/** Advice after a round, and how things really stood. */
export interface ToldStop {
  mixes: number;
  advised: boolean;
  because: string;
  matches: boolean;
  excess: number;
}

export interface WorldResult {
  seed: number;
  reference: boolean;
  family: string;
  attainable: boolean;
  components: number;
  attributes: number;
  bestDistance: number;
  standings: Record<string, Pick<Standing, 'mixes' | 'cups' | 'grams' | 'excess' | 'atLarge' | 'matches'>[]>;
  chances: ToldChance[];
  stops: ToldStop[];
  /** Milliseconds of each call for the next mixes, by mixes tasted. */
  milliseconds: number[];
}

const ANYWHERE = 12;

/** Plays one world with our own method and the baselines named, all on the same world and panel. */
export async function playWorld({ seed, reference, baselines }: WorldTask): Promise<WorldResult> {
  const solver = await loadSolver();
  const world = makeWorld(seed, { reference });
  const said: Said[] = [];
  const anywhere: ToldChance[] = [];
  const told = (where: ToldChance['where'], { recipe, chance }: { recipe: Recipe; chance: number }) => ({
    where,
    chance,
    matches: world.matches(recipe.shares, recipe.settings),
  });
  const ours = ourSearch(solver, said);
  const watched: Method = {
    ...ours,
    recommend(evidence: Evidence, stream) {
      for (const one of chancesAnywhere(evidence, ANYWHERE, solver)) anywhere.push(told('anywhere', one));
      return ours.recommend(evidence, stream);
    },
  };
  const standings: WorldResult['standings'] = {};
  for (const method of [watched, ...BASELINES.filter(({ name }) => baselines.includes(name))])
    standings[method.name] = play(world, method).map(({ recommended, ...rest }) => {
      if (method === watched) refuseViolation(world, recommended);
      return rest;
    });
  for (const { proposals, best } of said)
    for (const { recipe } of [...proposals, best]) refuseViolation(world, recipe);
  return {
    seed,
    reference,
    family: world.family,
    attainable: world.attainable,
    components: world.space.components.length,
    attributes: world.attributes.length,
    bestDistance: world.bestDistance,
    standings,
    chances: [
      ...anywhere,
      ...said.flatMap(({ proposals }) => proposals.map((one) => told('proposal', one))),
      ...said.map(({ best }) => told('best', best)),
    ],
    stops: said.map(({ mixes, stop, best }) => ({
      mixes,
      advised: stop.advised,
      because: stop.because,
      matches: world.matches(best.recipe.shares, best.recipe.settings),
      excess: world.distance(best.recipe.shares, best.recipe.settings) - world.bestDistance,
    })),
    milliseconds: said.map(({ milliseconds }) => milliseconds),
  };
}

/** A proposal outside the brief, or not in whole steps of the balance, ends the bench. */
function refuseViolation({ seed, space, batch }: World, { shares, settings }: Recipe): void {
  const { rows, limits } = halfSpacesOf(space);
  const outside = rows.some(
    (row, r) => row.reduce((sum, c, i) => sum + c * shares[i]!, 0) > limits[r]! + 1e-9,
  );
  const beyond = space.settings.some(({ low, high }, s) => !(settings[s]! >= low && settings[s]! <= high));
  const steps = shares.map((share) => (share * batch.grams) / batch.readability);
  const uneven = steps.some((step) => Math.abs(step - Math.round(step)) > 1e-6);
  if (outside || beyond || uneven)
    throw new Error(`world ${seed}: a proposal breaks a limit: ${shares.join()} ${settings.join()}`);
}
