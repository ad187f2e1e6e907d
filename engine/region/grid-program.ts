import type { LinearSolver } from '../numeric/linear-solver.ts';
import type { Limit } from './limits.ts';
import type { RegionBody } from './region.ts';
import type { WeighingForm, WeighingGrid } from './weighing-grid.ts';

/**
 * The feasible grid point nearest to given shares, distances counted on each component's own range: an integer
 * program over the steps of each component. Null where no grid point obeys all bounds.
 */
export function nearestOnGrid(
  region: RegionBody,
  shares: ArrayLike<number>,
  forms: readonly WeighingForm[],
  { grid, solver }: { grid: WeighingGrid; solver: LinearSolver },
): number[] | null {
  const q = forms.length;
  const part = forms.map((form) => form.unit / grid.total);
  const zeros = new Array<number>(q).fill(0);
  const open = Number.POSITIVE_INFINITY;
  const limitRow = ({ coefficients, at }: Limit, equal: boolean) => {
    const size = Math.max(...coefficients.map((c, i) => Math.abs(c * part[i]!)), 1e-300);
    const slack = 1e-10 / size;
    return {
      coefficients: [...coefficients.map((c, i) => (c * part[i]!) / size), ...zeros],
      least: at / size - slack,
      most: equal ? at / size + slack : open,
    };
  };
  const apart = (i: number, sign: number) => ({
    coefficients: [...zeros.with(i, sign), ...zeros.with(i, -1)],
    least: Number.NEGATIVE_INFINITY,
    most: (sign * shares[i]!) / part[i]!,
  });
  const sum = forms.map((form) => form.unit / grid.perStep);
  const steps = grid.total / grid.perStep;
  const outcome = solver.solve({
    objective: [...zeros, ...part.map((p, i) => p / Math.max(region.high[i]! - region.low[i]!, p))],
    sense: 'minimise',
    rows: [
      { coefficients: [...sum, ...zeros], least: steps, most: steps },
      ...region.facets.map(({ limit }) => limitRow(limit, false)),
      ...region.equalities.map((limit) => limitRow(limit, true)),
      ...forms.flatMap((_, i) => [apart(i, 1), apart(i, -1)]),
    ],
    low: [...zeros, ...zeros],
    high: [...part.map((p) => Math.ceil(1 / p)), ...zeros.map(() => open)],
    integer: [...zeros.map(() => true), ...zeros.map(() => false)],
  });
  if (outcome.status !== 'optimal') return null;
  return forms.map((form, i) => Math.round(outcome.x[i]!) * form.unit);
}
