import { EngineError } from '../errors.ts';
import { checkpoint, type Hooks } from '../hooks.ts';
import type { FitInput } from '../model/fit-types.ts';
import { buildPosterior } from '../model/posterior.ts';
import type { PanelPosterior } from '../model/posterior-types.ts';
import { processPosterior } from '../model/process/process-posterior.ts';
import type { LinearSolver } from '../numeric/linear-solver.ts';
import { describeRegion } from '../region/describe-region.ts';
import type { Region } from '../region/region.ts';
import { weighingGrid } from '../region/weighing-grid.ts';
import { pourProposals } from './leftover-shelf.ts';
import type { NextInput, NextResult, NextTools } from './next-types.ts';
import { proposeFrom } from './propose-from.ts';
import { RegionRecipes } from './region-recipes.ts';

/**
 * The next mixes most worth making, the ratio to settle on if tasting stopped now with the chance that it matches,
 * and whether to stop. Every proposal is feasible, weighable as it stands and can be tasted apart from what exists;
 * where pouring an existing mix again tells more, that is proposed under its own name.
 *
 * Unless a model is asked for, the panel's averages are a Gaussian process: it works from the first mix on, where
 * a polynomial has more terms than there are mixes.
 *
 * @param input mixes as weighed, servings with scores in the order of `attributes`; `seed` fixes every random choice
 * @throws EngineError `no-data` where nothing was scored or nothing is aimed at; `empty-region`; `cancelled`
 */
export function proposeNext(input: NextInput, { solver }: NextTools, hooks?: Hooks): NextResult {
  checkNext(input);
  checkpoint(hooks, 0, 'describing the region');
  const region = describeRegion(input.space, solver, { names: input.names });
  checkpoint(hooks, 0.1, 'fitting the models');
  const posterior = posteriorOf({ ...input, region, model: input.model ?? 'auto' });
  const tasted = new Set(input.servings.map(({ mix }) => mix));
  const result = proposeFrom(
    {
      ...input,
      mixes: input.mixes.filter(({ mix }) => tasted.has(mix)),
      taken: input.mixes.map(({ mix }) => mix),
      posterior,
      source: new RegionRecipes(region, input.batch, solver, input.stocks),
    },
    hooks,
  );
  const warnings = [...region.warnings, ...warningsOf(input, posterior), ...result.warnings];
  return withLeftovers({ ...result, warnings }, input, { region, solver });
}

function withLeftovers(
  result: NextResult,
  input: NextInput,
  { region, solver }: { region: Region; solver: LinearSolver },
): NextResult {
  const { leftovers, mixes, restHours, batch, stocks, prices = {} } = input;
  if (leftovers === undefined) return result;
  const grid = weighingGrid(input.space, batch, stocks);
  const shelf = { onHand: leftovers, mixes, restHours };
  const { made, warnings } = pourProposals(result.proposals, shelf, { region, grid, prices, solver });
  return {
    ...result,
    proposals: result.proposals.map((proposal, i) => ({ ...proposal, fromLeftovers: made[i]! })),
    warnings: [...result.warnings, ...warnings],
  };
}

function posteriorOf(input: FitInput): PanelPosterior {
  return input.model === 'auto' || input.model === 'process'
    ? processPosterior(input)
    : buildPosterior(input);
}

function checkNext({ attributes, servings, mixes, count }: NextInput): void {
  if (!Number.isInteger(count) || count < 1)
    throw new EngineError('bad-argument', 'count', count, 'a whole number from 1 up');
  const aimed = attributes.flatMap(({ target }, k) => (target === null ? [] : [k]));
  if (aimed.length === 0)
    throw new EngineError('no-data', 'attributes', [], 'at least one attribute with a target');
  const known = new Set(mixes.map(({ mix }) => mix));
  const scored = servings.some(({ mix, scores }) => known.has(mix) && aimed.some((k) => scores[k] != null));
  if (!scored)
    throw new EngineError(
      'no-data',
      'servings',
      0,
      'scores of at least one weighed mix on an aimed attribute',
    );
}

function warningsOf({ attributes, servings, names, mixes }: NextInput, posterior: PanelPosterior): string[] {
  const tasted = new Set(servings.map(({ mix }) => mix));
  const count = mixes.filter(({ mix }) => tasted.has(mix)).length;
  const called = (id: string) => (Object.hasOwn(names, id) ? names[id]! : id);
  const unknown = posterior.attributes.flatMap(({ id, reason }, k) =>
    attributes[k]!.target !== null && reason !== null ? [`${called(id)}: ${reason}`] : [],
  );
  const reference = attributes.some(({ target }) => target?.kind === 'reference') && !tasted.has('reference');
  return [
    ...(count === 1 ? ['Only one mix has been tasted: the proposals mostly spread over the region.'] : []),
    ...(reference
      ? ['The reference has not been poured: attributes that aim at it cannot be judged and are left out.']
      : []),
    ...unknown,
  ];
}
