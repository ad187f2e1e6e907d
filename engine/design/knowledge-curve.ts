import { checkpoint, type Hooks } from '../hooks.ts';
import { createRandom, type Random } from '../numeric/random.ts';
import type { CandidateTable, Spot } from './candidate-table.ts';
import { designAt } from './design-at.ts';
import type { DesignState } from './design-state.ts';
import { pairVariance } from './judge-plan.ts';
import { codesOf, prepareProblem, type SearchProblem } from './plan-problem.ts';
import { openSpots, type Settled, settle, tableOf } from './plan-start.ts';
import type { PlanInput, PlannedPlace, PlanTools } from './plan-types.ts';
import { economise, staysWithin, useOf } from './scarce.ts';
import type { PlannedModel } from './terms.ts';

/** What some mixes teach, beside all that is weighed already. */
export interface Knowledge {
  averageVariance: number;
  /** Mean variance of the difference of two mixes picked anywhere. */
  pairVariance: number;
}

/** What so many mixes would teach. */
export interface KnowledgePoint extends Knowledge {
  mixes: number;
  /** The mixes, not yet on the grid of the balance; pinned ones among them. */
  spots: readonly Spot[];
}

export interface KnowledgeCurve {
  /** The model in which all numbers of mixes are judged. */
  model: PlannedModel;
  points: KnowledgePoint[];
  /** Judges any mixes as the points are judged; null where they cannot settle all terms. */
  judge: (mixes: readonly PlannedPlace[]) => Knowledge | null;
}

/** Candidates of the search; more would hardly change a curve. */
const MOST = 1200;
const BEGINNINGS = 8;

/**
 * Knowledge against the number of new mixes, beside what is weighed already, around the mixes that are pinned and
 * within what there is of scarce components; in one and the same model: the one asked for, else the quadratic, with
 * prior information on all that the fewest mixes cannot settle (DuMouchel and Jones 1994), so that every number of
 * mixes is judged alike. Each design grows from the one before by the mix that helps most and then settles: the curve
 * never rises, unless something is scarce, so that one mix more leaves less of it to the others; and it ends where there
 * is too little for any mix more.
 *
 * @param sizes numbers of new mixes to report; those too few for the components, or for the pinned mixes, are left out.
 * @throws as `planMixes` does
 */
export function knowledgeCurve(
  input: PlanInput,
  sizes: readonly number[],
  tools: PlanTools,
  hooks?: Hooks,
): KnowledgeCurve {
  const fewest = Math.max(1, input.space.components.length - (input.already?.length ?? 0));
  const model = input.model ?? 'quadratic';
  const problem = prepareProblem({ ...input, replicated: 0, model, priorFor: fewest }, tools);
  const least = Math.max(fewest, problem.pinned.length);
  const asked = [...new Set(sizes)].filter((size) => size >= least).sort((a, b) => a - b);
  return {
    model,
    points: growCurve(problem, { least, asked }, hooks),
    judge: (mixes) => judgeMixes(problem, mixes),
  };
}

function growCurve(
  problem: SearchProblem,
  { least, asked }: { least: number; asked: readonly number[] },
  hooks?: Hooks,
): KnowledgePoint[] {
  const random = createRandom(problem.input.seed, 'curve');
  const table = tableOf(problem, random.shuffle(openSpots(problem, random)).slice(0, MOST));
  const { pinned } = problem;
  let found = beginning(problem, table, { count: least - pinned.length, random });
  const last = asked.at(-1) ?? least;
  const curve: KnowledgePoint[] = [];
  for (let size = least; ; size++) {
    checkpoint(hooks, (size - least) / (last - least + 1), `weighing up ${size} mixes`);
    if (asked.includes(size)) {
      found = settle(problem, table, found.spots, 'in full');
      if (found.state.sound)
        curve.push({
          ...{ mixes: size, spots: [...pinned, ...found.spots] },
          ...knowledgeOf(problem, found.state),
        });
    }
    if (size >= last) return curve;
    const grown = withOneMore(problem, table, found);
    if (grown === null) return curve;
    found = settle(problem, tableOf(problem, []), grown);
  }
}

/** The best of several random beginnings. */
function beginning(
  problem: SearchProblem,
  table: CandidateTable,
  { count, random }: { count: number; random: Random },
): Settled {
  const { spots } = table;
  const weights = new Array<number>(count).fill(1);
  return Array.from({ length: BEGINNINGS }, () => {
    const chosen = weights.map(() => spots[random.integer(spots.length)]!);
    for (const [row, c] of economise(problem.scarce, { spots: chosen, weights }, spots))
      chosen[row] = spots[c]!;
    return settle(problem, table, chosen);
  }).reduce((a, b) => (b.state.score < a.state.score ? b : a));
}

/**
 * One mix more: the candidate that helps most and that there is enough of, else the leanest one, with those that take
 * most replaced; null where there is too little even then.
 */
function withOneMore({ scarce }: SearchProblem, table: CandidateTable, found: Settled): Spot[] | null {
  const { spots } = table;
  const nothing: Spot = { shares: spots[0]!.shares.map(() => 0), coded: [] };
  const before = [...found.spots, nothing];
  const weights = before.map(() => 1);
  const last = before.length - 1;
  table.refresh(found.state);
  const best = table.bestAddition(found.state, (spot) =>
    staysWithin(scarce, { spots: before, weights }, last, spot),
  );
  if (best !== null) return before.with(last, spots[best]!);
  const { component } = scarce[0]!;
  const leanest = spots.reduce((a, b) => (b.shares[component]! < a.shares[component]! ? b : a));
  const grown = before.with(last, leanest);
  for (const [row, c] of economise(scarce, { spots: grown, weights }, spots)) grown[row] = spots[c]!;
  const fits = scarce.every((one) => useOf({ spots: grown, weights }, one.component) <= one.most + 1e-9);
  return fits ? grown : null;
}

function knowledgeOf(problem: SearchProblem, state: DesignState): Knowledge {
  return { averageVariance: state.trace, pairVariance: pairVariance(problem, state) };
}

function judgeMixes(problem: SearchProblem, mixes: readonly PlannedPlace[]): Knowledge | null {
  const { space, known, input } = problem;
  const spots = mixes.map(({ shares, settings }) => ({ shares, coded: codesOf(input, settings) }));
  const state = designAt({ space, criterion: 'average-variance', fixed: known }, spots);
  return state.sound ? knowledgeOf(problem, state) : null;
}
