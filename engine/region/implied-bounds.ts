import type { LinearSolver } from '../numeric/linear-solver.ts';
import type { BlendSpace } from './blend-space.ts';
import { type Limit, type Names, nameOf, sayLimit, sayList, sayNumber } from './limits.ts';
import type { ImpliedBound } from './region.ts';

interface Context {
  space: BlendSpace;
  names: Names;
  limits: readonly Limit[];
  solver: LinearSolver;
}

/** Lows and highs that other bounds tighten by more than this, relative to 1, are told. */
const WORTH_TELLING = 1e-9;

/** Compares the range of each share that occurs with the one asked for, and says which bounds are the reason. */
export function impliedBounds(
  context: Context,
  low: readonly number[],
  high: readonly number[],
): ImpliedBound[] {
  return context.space.components.flatMap((component, i) => {
    const found: ImpliedBound[] = [];
    const askedLow = Math.max(0, component.low);
    const askedHigh = Math.min(1, component.high);
    if (low[i]! > askedLow + WORTH_TELLING) found.push(tightened(context, i, 'low', low[i]!));
    if (high[i]! < askedHigh - WORTH_TELLING) found.push(tightened(context, i, 'high', high[i]!));
    return found;
  });
}

function tightened(context: Context, component: number, side: 'low' | 'high', implied: number): ImpliedBound {
  const given = context.space.components[component]!;
  const asked = side === 'low' ? Math.max(0, given.low) : Math.min(1, given.high);
  const reasons = reasonsFor(context, component, side).map((limit) =>
    sayLimit(context.space, limit, context.names),
  );
  const name = nameOf(context.space, component, context.names);
  const verb = side === 'high' ? 'can in fact not exceed' : 'can in fact not go below';
  const because = reasons.length > 0 ? `: ${sayList(reasons)}` : ', since shares sum to 1';
  return {
    component,
    side,
    asked,
    implied,
    natural: side === 'low' ? given.low <= 0 : given.high >= 1,
    says: `${name} ${verb} ${sayNumber(implied)}${because}.`,
  };
}

/**
 * The bounds that force a share: the support of an optimal basic solution of the dual program,
 * minimise y₀ - Σ yₖ bₖ subject to y₀ - Σ yₖ aₖ = ±e, yₖ ≥ 0 (linear programming duality).
 */
function reasonsFor({ limits, solver }: Context, component: number, side: 'low' | 'high'): Limit[] {
  const others = limits.filter(({ kind, index }) => kind !== side || index !== component);
  const q = limits[0]!.coefficients.length;
  const sign = side === 'high' ? 1 : -1;
  const outcome = solver.solve({
    objective: [1, ...others.map(({ at }) => -at)],
    sense: 'minimise',
    rows: Array.from({ length: q }, (_, i) => {
      const value = i === component ? sign : 0;
      return {
        coefficients: [1, ...others.map(({ coefficients }) => -coefficients[i]!)],
        least: value,
        most: value,
      };
    }),
    low: [Number.NEGATIVE_INFINITY, ...others.map(() => 0)],
    high: new Array<number>(others.length + 1).fill(Number.POSITIVE_INFINITY),
  });
  if (outcome.status !== 'optimal') return [];
  return others.filter((limit, k) => outcome.x[k + 1]! > 1e-9 && !limit.natural);
}
