import { EngineError } from '../errors.ts';
import type { LinearSolver } from '../numeric/linear-solver.ts';
import type { BlendSpace } from './blend-space.ts';
import { type Limit, type Names, sayLimit, sayList, sayNumber } from './limits.ts';

interface Context {
  space: BlendSpace;
  names: Names;
  limits: readonly Limit[];
  solver: LinearSolver;
}

/** One of the bounds that cannot all hold. */
export interface ConflictingBound {
  path: string;
  says: string;
  /** How far this bound alone would have to give before a mix exists; null where that would not be enough. */
  give: number | null;
}

/** The error for a space without a mix: the smallest set of conflicting bounds and how far each must give. */
export function refuseEmpty(context: Context): EngineError {
  const conflict = smallestConflict(context).map(
    (limit): ConflictingBound => ({
      path: limit.path,
      says: sayLimit(context.space, limit, context.names),
      give: requiredGive(context, limit),
    }),
  );
  const together = sayList(conflict.map(({ says }) => says));
  const gives = conflict.flatMap((bound) => sayGive(bound));
  const remedy =
    gives.length > 0
      ? ` One of them has to give: ${gives.join(', or ')}.`
      : ' No single one of them giving way would be enough.';
  return new EngineError(
    'empty-region',
    conflict[0]?.path ?? 'bounds',
    conflict,
    'bounds that at least one mix obeys, shares summing to 1',
    `No mix obeys all bounds: ${together} cannot hold together, since shares sum to 1.${remedy}`,
  );
}

function sayGive({ says, give }: ConflictingBound): string[] {
  if (give === null) return [];
  const match = /^(.*) (at most|at least) (\S+)$/.exec(says)!;
  const moved = Number(match[3]) + (match[2] === 'at most' ? give : -give);
  return [`${match[1]} ${match[2]} ${sayNumber(moved)} (by ${sayNumber(give)})`];
}

/**
 * The smallest set of bounds that cannot hold together. By Farkas' lemma a conflict is a certificate y ≥ 0 with
 * Σ yₖ aₖ = y₀·1 and Σ yₖ bₖ > y₀; the supports of extreme certificates are the irreducible conflicts (Gleeson
 * and Ryan 1990), so the smallest comes from an integer program over supports.
 */
function smallestConflict(context: Context): Limit[] {
  const { limits, solver } = context;
  const widest = certificate(context, null);
  const gap = widest === null ? 0 : widest.objective;
  if (!(gap > 0)) return limits.filter(({ natural }) => !natural);
  const fewest = certificate(context, gap / 1000);
  const chosen = fewest === null ? widest!.weights : fewest.weights;
  const support = limits.filter((limit, k) => chosen[k]! > 1e-7 && !limit.natural);
  return irreducible(solver, limits, support);
}

interface Certificate {
  weights: number[];
  objective: number;
}

/** The certificate of the widest gap, or, with `leastGap`, the one with the fewest bounds. */
function certificate({ limits, solver }: Context, leastGap: number | null): Certificate | null {
  const n = limits.length;
  const q = limits[0]!.coefficients.length;
  const sizes = limits.map(({ coefficients }) => Math.max(1e-300, ...coefficients.map(Math.abs)));
  const zeros = new Array<number>(n).fill(0);
  const pick = (k: number) => zeros.with(k, 1);
  const switches = leastGap === null ? 0 : n;
  const pad = new Array<number>(switches).fill(0);
  const gapRow = [-1, ...limits.map(({ at }, k) => at / sizes[k]!), ...pad];
  const open = Number.POSITIVE_INFINITY;
  const rows = [
    ...Array.from({ length: q }, (_, i) => ({
      coefficients: [-1, ...limits.map(({ coefficients }, k) => coefficients[i]! / sizes[k]!), ...pad],
      least: 0,
      most: 0,
    })),
    { coefficients: [0, ...zeros.map(() => 1), ...pad], least: 1, most: 1 },
  ];
  if (leastGap !== null) {
    rows.push({ coefficients: gapRow, least: leastGap, most: open });
    limits.forEach((_, k) => {
      rows.push({ coefficients: [0, ...pick(k).map((v) => -v), ...pick(k)], least: 0, most: open });
    });
  }
  const outcome = solver.solve({
    objective:
      leastGap === null ? gapRow : [0, ...zeros, ...limits.map(({ natural }) => (natural ? 0.01 : 1))],
    sense: leastGap === null ? 'maximise' : 'minimise',
    rows,
    low: [Number.NEGATIVE_INFINITY, ...zeros, ...pad],
    high: [open, ...zeros.map(() => 1), ...pad.map(() => 1)],
    ...(leastGap === null ? {} : { integer: [false, ...zeros.map(() => false), ...pad.map(() => true)] }),
  });
  if (outcome.status !== 'optimal') return null;
  return { weights: outcome.x.slice(1, n + 1), objective: outcome.objective };
}

/** Leaves out each bound without which the rest still conflicts. */
function irreducible(solver: LinearSolver, limits: readonly Limit[], support: readonly Limit[]): Limit[] {
  let kept = [...support];
  for (const limit of support) {
    const fewer = kept.filter((other) => other !== limit);
    const natural = limits.filter((other) => other.natural);
    if (relax(solver, [...fewer, ...natural], null) === null) kept = fewer;
  }
  return kept;
}

/** How far one bound must give while all others hold; null where that is not enough. */
function requiredGive({ solver, limits }: Context, limit: Limit): number | null {
  return relax(solver, limits, limit);
}

/** Least t with a·x ≥ b - t for the given limit (0 where all limits hold as they stand); null = no mix for any t. */
function relax(solver: LinearSolver, limits: readonly Limit[], giving: Limit | null): number | null {
  const q = limits[0]!.coefficients.length;
  const rows = limits.map((limit) => ({
    coefficients: [...limit.coefficients, limit === giving ? 1 : 0],
    least: limit.at,
    most: Number.POSITIVE_INFINITY,
  }));
  const outcome = solver.solve({
    objective: [...new Array<number>(q).fill(0), 1],
    sense: 'minimise',
    rows: [{ coefficients: [...new Array<number>(q).fill(1), 0], least: 1, most: 1 }, ...rows],
    low: new Array<number>(q + 1).fill(0),
    high: [...new Array<number>(q).fill(1), giving === null ? 0 : Number.POSITIVE_INFINITY],
  });
  return outcome.status === 'optimal' ? outcome.objective : null;
}
