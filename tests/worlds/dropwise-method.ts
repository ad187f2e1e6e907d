import type { NextResult } from '../../engine/aim/next-types.ts';
import { proposeNext } from '../../engine/aim/propose-next.ts';
import { planMixes } from '../../engine/design/plan-mixes.ts';
import type { LinearSolver } from '../../engine/numeric/linear-solver.ts';
import type { Evidence, Method, Recipe } from './baselines/baseline.ts';

/** What the engine said after a round, for the measures that only it has. */
export type Heard = (evidence: Evidence, result: NextResult) => void;

/** This project's own method as a search: the first round is planned, every later one proposed. */
export function dropwise(solver: LinearSolver, heard?: Heard): Method {
  return {
    name: 'dropwise',
    propose(evidence, count) {
      if (evidence.made.length === 0) return firstRound(evidence, count, solver);
      return nextOf(evidence, count, solver).proposals.map((proposal) => recipeOf(evidence, proposal));
    },
    recommend(evidence) {
      const result = nextOf(evidence, ROUND, solver);
      heard?.(evidence, result);
      return recipeOf(evidence, result.best);
    },
  };
}

const ROUND = 4;

function firstRound({ world }: Evidence, count: number, solver: LinearSolver): Recipe[] {
  const { space, batch } = world;
  const plan = planMixes({ space, batch, mixes: count, seed: 1, starts: 4 }, { solver });
  return plan.mixes.map((mix) => recipeOf({ world } as Evidence, mix));
}

function nextOf({ world, made, servings }: Evidence, count: number, solver: LinearSolver): NextResult {
  const { space, batch, attributes } = world;
  const mixes = made.map((mix) => ({ ...mix, blend: mix.mix }));
  return proposeNext({ space, names: {}, batch, attributes, mixes, servings, count, seed: 1 }, { solver });
}

function recipeOf(
  { world }: Pick<Evidence, 'world'>,
  { ratios, settings }: { ratios: Record<string, number>; settings: Record<string, number> },
): Recipe {
  return {
    shares: world.space.components.map(({ id }) => ratios[id]!),
    settings: world.space.settings.map(({ id }) => settings[id]!),
  };
}
