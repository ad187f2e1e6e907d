import { EngineError } from '../errors.ts';
import { requireCount } from '../numeric/guard.ts';
import { independentColumns } from '../numeric/least-squares.ts';
import type { LinearSolver } from '../numeric/linear-solver.ts';
import { createRandom, type Random } from '../numeric/random.ts';
import { codeSetting } from '../region/blend-space.ts';
import { screeningPoints } from '../region/cox-direction.ts';
import { describeRegion } from '../region/describe-region.ts';
import { isAllowed, type Region } from '../region/region.ts';
import { settingLevels } from '../region/setting-levels.ts';
import { refuseUnweighable } from '../region/unweighable.ts';
import { nearestPoint, nearestWeighable } from '../region/weighable.ts';
import { type WeighingGrid, weighingGrid } from '../region/weighing-grid.ts';
import { candidateBlends } from './candidate-blends.ts';
import type { Spot } from './candidate-table.ts';
import { chooseModel, type ModelChoice } from './choose-model.ts';
import type { Criterion } from './design-state.ts';
import { type GridSpot, gridSpot } from './grid-spot.ts';
import type { PlanInput, PlannedPlace, PlanTools } from './plan-types.ts';
import { priorInCoordinates, priorPrecision } from './prior.ts';
import { type Scarce, scarceOf } from './scarce.ts';
import { searchDirections } from './search-directions.ts';
import { simplexPoints } from './simplex-points.ts';
import { orthonormalTerms, type TermSpace, termSpace } from './term-space.ts';
import { evaluateTerms, lineDegree, type Term } from './terms.ts';

/**
 * Everything about a plan that does not depend on where a search starts: plain data, so that a worker can be sent
 * it. The same input gives the same problem.
 */
export interface SearchProblem {
  input: PlanInput;
  criterion: Criterion;
  region: Region;
  grid: WeighingGrid;
  levels: readonly { values: number[]; coded: number[] }[];
  choice: ModelChoice;
  space: TermSpace;
  /** Precision of each term of the space; null where the mixes settle all. */
  precision: readonly number[] | null;
  /** Information that is there before any new mix, in the coordinates of the space. */
  fixed: Float64Array;
  /** The same without the pinned mixes: prior, and what is weighed already. */
  known: Float64Array;
  /** Mixes of the plan that are not to be moved. */
  pinned: readonly GridSpot[];
  /** Mixes that no mix of the plan may come near to. */
  forbidden: readonly Spot[];
  /** Components of which there is only so much, for the mixes to be found and their repeats. */
  scarce: readonly Scarce[];
  /** Mixes to be found: all but repeats and pinned ones. */
  distinct: number;
  replicated: number;
  /** Mixes poured from each bottle. */
  perBottle: number;
  /** Nothing but the blends listed, and no two mixes alike. */
  onlyListed: boolean;
  blends: readonly number[][];
  directions: readonly number[][];
  /** Degree of the polynomials that stand for the terms along a line. */
  degree: number;
}

/** With the solver that puts mixes on the balance's grid. */
export interface PlanProblem extends SearchProblem {
  solver: LinearSolver;
}

export const MOST_CANDIDATES = 5000;

/**
 * Describes the region, chooses the model and lays out candidates and prior information.
 *
 * @throws EngineError `bad-argument`, `too-few-mixes`, `empty-region`, `unweighable`.
 */
export function prepareProblem(input: PlanInput, { solver }: PlanTools): PlanProblem {
  requireCount('mixes', input.mixes, 1);
  const replicated = input.replicated ?? 0;
  requireCount('replicated', replicated, 0);
  const perBottle = input.perBottle ?? 1;
  const onlyListed = input.screen === true;
  checkRequest(input, { replicated, perBottle });
  const region = describeRegion(input.space, solver, { names: input.names, seed: input.seed });
  const grid = weighingGrid(input.space, input.batch, input.stocks);
  if (nearestWeighable(region, region.centroid, grid, solver) === null)
    throw refuseUnweighable(region, grid, solver);
  const random = createRandom(input.seed, 'plan');
  const choice = modelFor(input, region, replicated, random);
  const space = termSpace(region, choice.terms, random.fork('terms'));
  const degree = lineDegree(space.terms);
  const blends = onlyListed
    ? screeningPoints(region)
    : candidateBlends(region, edgeParts(space.terms), random.fork('candidates'));
  const precision = precisionFor(region, space, choice, blends);
  const levels = input.space.settings.map(settingLevels);
  const pinned = [...pointsOf(input, region), ...(input.pinned ?? [])].map((one, k) =>
    pinnedSpot({ region, grid, levels, solver }, one, k),
  );
  const room = replicated > 0 ? input.mixes - replicated - 1 : input.mixes;
  if (pinned.length > room) throw new EngineError('bad-argument', 'pinned', pinned.length, `at most ${room}`);
  const distinct = input.mixes - replicated - pinned.length;
  if (onlyListed) checkScreen(region, blends, distinct);
  const known = fixedInformation(input, space, precision);
  const fixed = Float64Array.from(known);
  for (const { shares, coded } of pinned) addRow(fixed, orthonormalTerms(space, shares, coded));
  return {
    input,
    solver,
    criterion: input.criterion ?? 'average-variance',
    region,
    grid,
    levels,
    choice,
    space,
    precision,
    fixed,
    known,
    pinned,
    forbidden: (input.forbidden ?? []).map(({ shares, settings }) => ({
      shares,
      coded: codesOf(input, settings),
    })),
    scarce: scarceOf(region, input.atMost ?? {}, {
      batch: input.batch.grams,
      ...{ pinned, bottles: Math.ceil((input.mixes - pinned.length) / perBottle) },
    }),
    ...{ distinct, replicated, perBottle, onlyListed, blends },
    directions: onlyListed ? [] : searchDirections(region),
    degree,
  };
}

function checkRequest(
  { space, thrift, screen, model }: PlanInput,
  { replicated, perBottle }: { replicated: number; perBottle: number },
): void {
  requireCount('perBottle', perBottle, 1);
  const most = 3 ** space.settings.filter(({ low, high }) => high > low).length;
  if (perBottle > most)
    throw new EngineError(
      'bad-argument',
      'perBottle',
      perBottle,
      `at most ${most}: three levels of each setting`,
    );
  if (perBottle > 1 && replicated > 0)
    throw new EngineError(
      'bad-argument',
      'replicated',
      replicated,
      'none where bottles are poured several times',
    );
  if (perBottle > 1 && (thrift !== undefined || screen))
    throw new EngineError(
      'bad-argument',
      'perBottle',
      perBottle,
      '1 where a cheaper plan is looked for or components are screened',
    );
  if (screen && model !== undefined && model !== 'linear')
    throw new EngineError('bad-argument', 'model', model, 'linear, which screening reads');
}

function checkScreen(region: Region, blends: readonly number[][], distinct: number): void {
  const most = blends.length * 2 ** region.space.settings.filter(({ low, high }) => high > low).length;
  if (distinct > most)
    throw new EngineError(
      'bad-argument',
      'mixes',
      distinct,
      `at most ${most} different ones where components are screened`,
    );
}

/** Bottles, those before among them, where several mixes are to be poured from each; else as many as wanted. */
function bottlesOf({ mixes, pinned = [], perBottle = 1, already = [] }: PlanInput): number {
  if (perBottle === 1) return Number.POSITIVE_INFINITY;
  const before = new Set(already.map(({ blend }) => blend)).size;
  return before + pinned.length + Math.ceil((mixes - pinned.length) / perBottle);
}

function modelFor(input: PlanInput, region: Region, replicated: number, random: Random): ModelChoice {
  const already = input.already?.length ?? 0;
  if (replicated >= input.mixes)
    throw new EngineError('bad-argument', 'replicated', replicated, `less than mixes, ${input.mixes}`);
  return chooseModel({
    space: input.space,
    widths: region,
    model: input.screen ? 'linear' : input.model,
    mixes: (input.priorFor ?? input.mixes) + already,
    distinct: (input.priorFor ?? input.mixes - replicated) + already,
    bottles: bottlesOf(input),
    countOf: (terms) => countIndependent(region, terms, random.fork(`count ${terms.length}`)),
  });
}

/** How many of the terms are not aliased over the region. */
function countIndependent(region: Region, terms: readonly Term[], random: Random): number {
  const full = region.shape === 'full' && region.space.settings.every(({ low, high }) => high > low);
  if (full) return terms.length;
  const n = 4 * terms.length + 20;
  const rows = new Float64Array(n * terms.length);
  for (let i = 0; i < n; i++)
    rows.set(
      evaluateTerms(terms, randomBlend(region, random), randomCodes(region, random)),
      i * terms.length,
    );
  return independentColumns(rows, n, terms.length, 1e-11).length;
}

/** Where on an edge a candidate lies: thirds for cubic terms, near its ends too for logarithms. */
function edgeParts(terms: readonly Term[]): number[] {
  if (terms.some(({ logs }) => logs !== undefined)) return [0.02, 0.06, 0.2, 0.5, 0.8, 0.94, 0.98];
  return lineDegree(terms) > 2 ? [1 / 3, 1 / 2, 2 / 3] : [1 / 2];
}

/** A random mean of corners. */
function randomBlend(region: Region, random: Random): number[] {
  const parts = region.corners.points.map(() => -Math.log(1 - random.uniform()));
  const total = parts.reduce((a, b) => a + b, 0);
  return region.inner.map((_, i) =>
    region.corners.points.reduce((sum, p, v) => sum + (parts[v]! / total) * p[i]!, 0),
  );
}

function randomCodes(region: Region, random: Random): number[] {
  return region.space.settings.map(({ low, high }) => (high > low ? random.integer(3) - 1 : 0));
}

function precisionFor(
  region: Region,
  space: TermSpace,
  choice: ModelChoice,
  blends: readonly number[][],
): number[] | null {
  const names = new Map(choice.terms.map(({ name }, t) => [name, choice.primary[t]!]));
  const primary = space.terms.map(({ name }) => names.get(name)!);
  if (primary.every(Boolean)) return null;
  const points = combineSettings(region, blends, 3, 20_000, null);
  return priorPrecision(space.terms, primary, points);
}

function fixedInformation(
  input: PlanInput,
  space: TermSpace,
  precision: readonly number[] | null,
): Float64Array {
  const p = space.terms.length;
  const fixed = precision === null ? new Float64Array(p * p) : priorInCoordinates(precision, space.transform);
  for (const { shares, settings } of input.already ?? []) {
    addRow(fixed, orthonormalTerms(space, shares, codesOf(input, settings)));
  }
  return fixed;
}

export function codesOf({ space }: PlanInput, settings: readonly number[]): number[] {
  return space.settings.map((setting, s) => codeSetting(setting, settings[s]!));
}

/** Adds g g'. */
function addRow(sum: Float64Array, g: Float64Array): void {
  const p = g.length;
  for (let i = 0; i < p; i++) for (let j = 0; j < p; j++) sum[i * p + j] = sum[i * p + j]! + g[i]! * g[j]!;
}

/** A published set, settings in the middle. */
function pointsOf({ points, space }: PlanInput, region: Region): PlannedPlace[] {
  if (points === undefined) return [];
  const settings = space.settings.map(({ low, high }) => (low + high) / 2);
  return simplexPoints(region, points).map((shares) => ({ shares, settings }));
}

type Bench = Pick<PlanProblem, 'region' | 'grid' | 'levels' | 'solver'>;

/** A pinned mix where it can be weighed nearest to what was asked. */
function pinnedSpot(bench: Bench, { shares, settings }: PlannedPlace, k: number): GridSpot {
  const { region, grid, levels, solver } = bench;
  if (!isAllowed(region, shares, 1e-6))
    throw new EngineError('bad-argument', `pinned[${k}]`, [...shares], 'a mix within all bounds');
  const point = nearestPoint(region, shares, grid, solver)!;
  const coded = region.space.settings.map((setting, s) => codeSetting(setting, settings[s]!));
  return gridSpot({ grid, levels }, point, coded);
}

/** The candidates of one start: every blend with every combination of settings, or a seeded choice of them. */
export function candidateSpots(problem: SearchProblem, random: Random): Spot[] {
  const { region, blends, degree } = problem;
  return combineSettings(region, blends, degree > 1 ? 3 : 2, MOST_CANDIDATES, random);
}

function combineSettings(
  region: Region,
  blends: readonly number[][],
  levels: 2 | 3,
  most: number,
  random: Random | null,
): Spot[] {
  const values = levels === 3 ? [-1, 0, 1] : [-1, 1];
  let codes: number[][] = [[]];
  for (const { low, high } of region.space.settings)
    codes = codes.flatMap((c) => (high > low ? values.map((v) => [...c, v]) : [[...c, 0]]));
  const each = Math.max(1, Math.min(codes.length, Math.floor(most / blends.length)));
  return blends.flatMap((shares) => {
    const chosen = each === codes.length || random === null ? codes : random.shuffle(codes).slice(0, each);
    return chosen.map((coded) => ({ shares, coded }));
  });
}
