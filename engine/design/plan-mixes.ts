import { checkpoint, type Hooks } from '../hooks.ts';
import { requireCount } from '../numeric/guard.ts';
import { createRandom } from '../numeric/random.ts';
import { codeSetting } from '../region/blend-space.ts';
import { sayList } from '../region/limits.ts';
import { poorlyKnown } from '../region/unweighable.ts';
import { settledBottles } from './bottle-search.ts';
import { gridCandidates, type PolishedDesign, polishOnGrid } from './grid-polish.ts';
import { lowerRows } from './judge-draft.ts';
import { judgePlan } from './judge-plan.ts';
import { largestVariance } from './largest-variance.ts';
import { oneStart } from './one-start.ts';
import { candidateSpots, type PlanProblem, prepareProblem, type SearchProblem } from './plan-problem.ts';
import { planRows } from './plan-rows.ts';
import { divideAmongSittings, type PlannedSittings } from './plan-sittings.ts';
import { rankStarts, type StartResult } from './plan-start.ts';
import type { PlanInput, PlannedMix, PlanPrior, PlanResult, PlanTools } from './plan-types.ts';
import { orthonormalTerms } from './term-space.ts';
import { thriftier } from './thrift.ts';

const STARTS = 16;
/** So many of the best starts are put on the grid. */
const POLISHED = 4;

/**
 * The first, or an additional, set of mixes over the whole allowed region: feasible, weighable as they stand, and
 * spread so that the model's predictions are known as well as so many mixes allow.
 *
 * Criterion: the mean over the region of f'(X'X)⁻¹f (default), or the determinant of X'X; exchange over candidates
 * and continuous coordinates from several random beginnings, then on the grid of the balance; with several mixes a
 * bottle, exchange of whole bottles on that grid. With fewer mixes than
 * terms X'X stands for X'X + prior (DuMouchel and Jones 1994). The same input gives the same plan.
 *
 * @throws EngineError `bad-argument`, `too-few-mixes`, `empty-region`, `unweighable`, `cancelled`.
 */
export function planMixes(input: PlanInput, tools: PlanTools, hooks?: Hooks): PlanResult {
  checkpoint(hooks, 0, 'describing what may be mixed');
  const problem = prepareProblem(input, tools);
  const count = startsOf(problem);
  const results = Array.from({ length: count }, (_, start) => {
    checkpoint(hooks, 0.1 + (0.7 * start) / count, `searching, start ${start + 1} of ${count}`);
    return oneStart(problem, start);
  });
  return finishPlan(problem, results, hooks);
}

/** How many starts a plan takes: for callers that run them apart. */
export function startsOf({ input }: SearchProblem): number {
  return Math.max(1, input.starts ?? STARTS);
}

/** Puts the best starts on the weighable grid and reports the best plan; the order of the results does not matter. */
export function finishPlan(problem: PlanProblem, results: readonly StartResult[], hooks?: Hooks): PlanResult {
  checkpoint(hooks, 0.8, 'rounding to what can be weighed');
  const spots = candidateSpots(problem, createRandom(problem.input.seed, 'grid'));
  const candidates = gridCandidates(problem, spots);
  if (problem.perBottle > 1) {
    const design = settledBottles(problem, rankStarts(results)[0]!);
    return resultOf(problem, design, largestVariance(problem, design.state, spots));
  }
  const polished = rankStarts(results)
    .slice(0, POLISHED)
    .map((start) => {
      checkpoint(hooks, 0.85, 'rounding to what can be weighed');
      return polishOnGrid(problem, start, candidates);
    });
  const best = polished.reduce((a, b) => (b.score < a.score ? b : a));
  if (problem.input.thrift !== undefined)
    checkpoint(hooks, 0.9, 'looking for a cheaper plan that knows as much');
  const cheaper = problem.input.thrift === undefined ? null : thriftier(problem, polished, candidates);
  const design = cheaper?.design ?? best;
  checkpoint(hooks, 0.95, 'judging the plan');
  const result = resultOf(problem, design, largestVariance(problem, design.state, spots));
  return cheaper === null ? result : { ...result, thrift: cheaper.told };
}

function resultOf(problem: PlanProblem, design: PolishedDesign, largest: number): PlanResult {
  const { region, space, choice, criterion } = problem;
  const { sound, trace, logDet } = design.state;
  const rows = planRows(problem, design);
  const sittings = sittingsOf(problem, rows);
  const mixes = rows.map((row, r) => (sittings.of[r] ? { ...row, sitting: sittings.of[r] } : row));
  const prior = priorOf(problem);
  return {
    mixes,
    model: choice.model,
    terms: space.terms.map(({ name }) => name),
    aliased: space.aliased.map(({ name }) => name),
    criterion,
    averageVariance: sound ? trace : null,
    averageIsExact: space.exact,
    logDeterminant: sound ? logDet + space.logDetMoments : null,
    maximumVariance: sound ? largest : null,
    basis: { terms: space.terms, transform: lowerRows(space.transform, space.terms.length) },
    judgement: sound ? judgePlan(problem, design.state) : null,
    sittingsCost: sittings.cost,
    corners: region.corners.points.map((point) => [...point]),
    cornersComplete: region.corners.complete,
    ...(prior === null ? {} : { prior }),
    warnings: warningsOf(problem, mixes, sound),
  };
}

/** Blocks of the mixes, where more than one sitting was asked for. */
function sittingsOf({ input, space, known }: PlanProblem, mixes: readonly PlannedMix[]): PlannedSittings {
  const { sittings = 1 } = input;
  requireCount('sittings', sittings, 1);
  if (sittings === 1) return { of: [], cost: 1 };
  const { components, settings } = input.space;
  const rows = mixes.map((mix) =>
    orthonormalTerms(
      space,
      components.map(({ id }) => mix.ratios[id]!),
      settings.map((setting) => codeSetting(setting, mix.settings[setting.id]!)),
    ),
  );
  return divideAmongSittings(rows, known, sittings);
}

function priorOf({ space, precision }: PlanProblem): PlanPrior | null {
  if (precision === null) return null;
  const terms = space.terms.filter((_, t) => precision[t]! > 0).map(({ name }) => name);
  return {
    terms,
    precision: [...precision],
    says: 'Each of these terms, freed of the others and brought to a range of one over the region, is taken beforehand to be about as large as the scatter of one cup.',
  };
}

function warningsOf(problem: PlanProblem, mixes: readonly PlannedMix[], sound: boolean): string[] {
  const { region, space, grid, precision, input } = problem;
  const warnings = [...region.warnings];
  if (!region.corners.complete)
    warnings.push('The region has more corners than can be listed: those shown are a sample.');
  if (space.aliased.length > 0)
    warnings.push(
      `Cannot be told apart over this region, and left out: ${sayList(space.aliased.map(({ name }) => name))}.`,
    );
  if (precision !== null) warnings.push(priorWarning(problem));
  if (!sound) warnings.push('These mixes cannot settle all terms of the model: its figures are left open.');
  const weighed = mixes.map((mix) =>
    input.space.components.map(({ id }) => {
      const weighing = mix.weigh?.find(({ component }) => component === id);
      return weighing ?? { strength: 100, grams: mix.grams[id]! };
    }),
  );
  return [...warnings, ...poorlyKnown(region, grid, weighed)];
}

function priorWarning({ space, precision, input }: PlanProblem): string {
  const open = space.terms.filter((_, t) => precision![t]! > 0).length;
  const mixes = input.mixes + (input.already?.length ?? 0);
  return `${mixes} mixes settle ${space.terms.length - open} of ${space.terms.length} terms; about the other ${open} they say only a little, and the figures lean on a guess of how large those are.`;
}
