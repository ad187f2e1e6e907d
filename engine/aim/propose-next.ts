import { EngineError } from '../errors.ts';
import { checkpoint, type Hooks } from '../hooks.ts';
import type { LinearSolver } from '../numeric/linear-solver.ts';
import { describeRegion } from '../region/describe-region.ts';
import { sayList } from '../region/limits.ts';
import type { Region } from '../region/region.ts';
import { weighingGrid } from '../region/weighing-grid.ts';
import { aimPosterior } from './aim-posterior.ts';
import type { Judged } from './judged.ts';
import { pourProposals } from './leftover-shelf.ts';
import type { NextInput, NextResult, NextTools } from './next-types.ts';
import { blendsNeeded, proposeFrom } from './propose-from.ts';
import { RegionRecipes } from './region-recipes.ts';
import { relaxedLimits } from './relaxed-limits.ts';

/**
 * The next mixes most worth making, the ratio to settle on if tasting stopped now with the chance that it matches,
 * and whether to stop. Every proposal is feasible, weighable as it stands and can be tasted apart from what exists;
 * where pouring an existing mix again tells more, that is proposed under its own name.
 *
 * Unless a model is asked for, the panel's averages are a Gaussian process: it works from the first mix on, where
 * a polynomial has more terms than there are mixes (`aimPosterior` says more).
 *
 * @param input mixes as weighed, servings with scores in the order of `attributes`; `seed` fixes every random choice
 * @throws EngineError `no-data` where nothing was scored or nothing is aimed at; `empty-region`; `cancelled`
 */
export function proposeNext(input: NextInput, { solver }: NextTools, hooks?: Hooks): NextResult {
  checkNext(input);
  checkpoint(hooks, 0, 'describing the region');
  const region = describeRegion(input.space, solver, { names: input.names });
  checkpoint(hooks, 0.1, 'fitting the models');
  const { posterior, judged } = aimPosterior({ ...input, region, model: input.model ?? 'auto' });
  const tasted = scoredMixes(input);
  if (judged.attributes.every(({ target }) => target === null))
    throw new EngineError(
      'no-data',
      'servings',
      'nothing to compare with a target',
      judged.missing.join(' '),
    );
  const result = proposeFrom(
    {
      ...input,
      judged,
      mixes: input.mixes.filter(({ mix }) => tasted.has(mix)),
      waiting: input.mixes.filter(({ mix }) => !tasted.has(mix)),
      posterior,
      source: new RegionRecipes(region, input.batch, solver, input.stocks),
      grams: input.batch.grams,
      onHand: input.space.components.map(({ id }) => {
        return input.onHand && Object.hasOwn(input.onHand, id) ? input.onHand[id]! : Infinity;
      }),
      relax: (best, by) => relaxedLimits(best, { ...input, ...by, posterior, solver }),
    },
    hooks,
  );
  const warnings = [
    ...region.warnings,
    ...warningsOf(input, judged),
    ...(input.settle && result.proposals.every(({ disagreement }) => disagreement === undefined)
      ? ['The models agree everywhere to within what one new mix can show: no check mix is proposed.']
      : []),
    ...(result.proposals.length < input.count
      ? [
          `Only ${result.proposals.length} of ${input.count} mixes are proposed: no other can be made of what is on hand and tasted apart from these.`,
        ]
      : []),
  ];
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

function checkNext({ space, attributes, servings, mixes, count, onHand = {} }: NextInput): void {
  for (const [id, grams] of Object.entries(onHand)) {
    if (!space.components.some((component) => component.id === id))
      throw new EngineError('bad-argument', 'onHand', id, space.components.map((one) => one.id).join(', '));
    if (!(grams >= 0)) throw new EngineError('bad-argument', `onHand.${id}`, grams, 'a mass of 0 g or more');
  }
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

/** Names of the mixes that somebody scored on something that is aimed at. */
function scoredMixes({ attributes, servings }: NextInput): Set<string> {
  const aimed = attributes.flatMap(({ target }, k) => (target === null ? [] : [k]));
  return new Set(servings.filter(({ scores }) => aimed.some((k) => scores[k] != null)).map(({ mix }) => mix));
}

function warningsOf(input: NextInput, judged: Judged): string[] {
  const { space, mixes } = input;
  const scored = scoredMixes(input);
  const waiting = mixes.filter(({ mix }) => !scored.has(mix)).map(({ mix }) => mix);
  const blends = new Set(mixes.filter(({ mix }) => scored.has(mix)).map(({ blend }) => blend)).size;
  const needed = blendsNeeded(space);
  return [
    ...(blends < needed
      ? [
          `Only ${blends === 1 ? 'one blend has' : `${blends} blends have`} been tasted, where ${needed} tell the ingredients apart: the proposals mostly spread over the region, and chances are mostly guesses.`,
        ]
      : []),
    ...(waiting.length > 0
      ? [
          `Weighed but not scored yet: ${sayList(waiting)}. Nothing like ${waiting.length === 1 ? 'it' : 'them'} is proposed.`,
        ]
      : []),
    ...judged.missing,
  ];
}
