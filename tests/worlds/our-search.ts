import { aimPosterior } from '../../engine/aim/aim-posterior.ts';
import { describeRecipes } from '../../engine/aim/describe-recipe.ts';
import type { NextInput, NextResult, ProposedRecipe } from '../../engine/aim/next-types.ts';
import { proposeNext } from '../../engine/aim/propose-next.ts';
import { RegionRecipes } from '../../engine/aim/region-recipes.ts';
import { planMixes } from '../../engine/design/plan-mixes.ts';
import type { LinearSolver } from '../../engine/numeric/linear-solver.ts';
import { createRandom } from '../../engine/numeric/random.ts';
import { describeRegion } from '../../engine/region/describe-region.ts';
import type { Evidence, Method, Recipe } from './baselines/baseline.ts';

/** What our own method said after a round. */
export interface Said {
  mixes: number;
  best: { recipe: Recipe; chance: number };
  proposals: { recipe: Recipe; chance: number }[];
  stop: NextResult['stop'];
  milliseconds: number;
}

const ROUND = 4;
const BATCH_TOLERANCE = 0.02;

/** Our own plan, then our own next mixes, as a method among the baselines; `said` collects what it claimed. */
export function ourSearch(solver: LinearSolver, said: Said[] = []): Method {
  let last: { servings: number; result: NextResult } | null = null;
  const ask = (evidence: Evidence): NextResult => {
    if (last?.servings === evidence.servings.length) return last.result;
    const begun = performance.now();
    const result = proposeNext(nextInput(evidence), { solver });
    last = { servings: evidence.servings.length, result };
    const milliseconds = performance.now() - begun;
    said.push({ ...claims(evidence, result), mixes: evidence.made.length, milliseconds });
    return result;
  };
  return {
    name: 'dropwise',
    propose(evidence, count) {
      if (evidence.made.length === 0) return firstRound(evidence, count, solver);
      const { proposals } = ask(evidence);
      return proposals.slice(0, count).map((one) => ({
        ...recipeOf(evidence, one),
        again: one.again ? one.mix : undefined,
      }));
    },
    recommend: (evidence) => recipeOf(evidence, ask(evidence).best),
  };
}

export function nextInput({ world, made, servings }: Evidence): NextInput {
  return {
    space: world.space,
    names: {},
    batch: { ...world.batch, tolerance: BATCH_TOLERANCE },
    attributes: world.attributes,
    mixes: made.map((one) => ({ ...one, blend: one.mix })),
    servings,
    count: ROUND,
    seed: world.seed,
  };
}

function firstRound({ world }: Evidence, count: number, solver: LinearSolver): Recipe[] {
  const batch = { ...world.batch, tolerance: BATCH_TOLERANCE };
  const { mixes } = planMixes({ space: world.space, batch, mixes: count, seed: world.seed }, { solver });
  return mixes.map((mix) => recipeOf({ world }, mix));
}

function claims(evidence: Evidence, { best, proposals, stop }: NextResult) {
  const claim = (one: ProposedRecipe) => ({ recipe: recipeOf(evidence, one), chance: one.chance! });
  return { best: claim(best), proposals: proposals.map(claim), stop };
}

function recipeOf(
  { world }: Pick<Evidence, 'world'>,
  one: { ratios: Readonly<Record<string, number>>; settings: Readonly<Record<string, number>> },
): Recipe {
  return {
    shares: world.space.components.map(({ id }) => one.ratios[id]!),
    settings: world.space.settings.map(({ id }) => one.settings[id]!),
  };
}

/** Chances that our models give to ratios spread evenly over the region. */
export function chancesAnywhere(
  evidence: Evidence,
  count: number,
  solver: LinearSolver,
): { recipe: Recipe; chance: number }[] {
  const { space, batch, seed } = { ...evidence.world, ...nextInput(evidence) };
  const region = describeRegion(space, solver);
  const input = { ...nextInput(evidence), region, model: 'auto' as const };
  const random = createRandom(seed, 'anywhere');
  const recipes = new RegionRecipes(region, batch, solver).spread(6 * count, random);
  const some = recipes.slice(-count);
  const described = describeRecipes(some, recipes.slice(0, -count), { space, seed, ...aimPosterior(input) });
  return described.recipes.map(({ chance }, i) => {
    const { shares, settings } = some[i]!;
    return { recipe: { shares: [...shares], settings: [...settings] }, chance: chance! };
  });
}
