import type { Random } from '../numeric/random.ts';
import { formFor, massUncertainty, type WeighingGrid } from '../region/weighing-grid.ts';
import type { PanelPosterior, Point, ScoreDraws } from './posterior-types.ts';

/** Shares up to this are left out of the pot: nothing is weighed of them, and nothing is weighed wrong. */
const NOT_WEIGHED = 1e-9;

/** By attribute and point: what one standard uncertainty of each weighed mass, up or down, does to the mean. */
export type WeighingShifts = readonly (readonly Float64Array[])[];

/**
 * What weighing a ratio on this balance does to the scores predicted for it. One standard uncertainty of a mass is
 * `massUncertainty`, of a component weighed from a stock that part of it which the stock holds; the errors of the masses
 * are independent. A component's mass that is off by u in a batch of G grams moves the shares by (u/G)(eⱼ - x), which
 * is Cox's direction; the score's change along it is a central difference over ±u (less where the mass itself is
 * less), so the variance by the delta method is the sum of squares of the shifts.
 *
 * The masses of the mixes that were tasted are taken as read: what their errors did to the scores is part of how the
 * scores scatter.
 *
 * @param points shares that sum to one, settings in natural units
 * @returns shifts in scale units, an entry a weighed component
 */
export function weighingShifts(
  posterior: Pick<PanelPosterior, 'predict'>,
  points: readonly Point[],
  grid: WeighingGrid,
): WeighingShifts {
  const moves = points.map(({ shares }) => movesOf(shares, grid));
  const moved = points.flatMap((point, i) =>
    moves[i]!.flatMap((move) => [along(point, move, 1), along(point, move, -1)]),
  );
  const predictions = moved.length > 0 ? posterior.predict(moved) : [];
  return predictions.map(({ mean }) => {
    let at = 0;
    return moves.map((own) =>
      Float64Array.from(own, ({ part }) => {
        const [up, down] = [mean[at]!, mean[at + 1]!];
        at += 2;
        return (up - down) / (2 * part);
      }),
    );
  });
}

/** Standard uncertainty that weighing gives a prediction: the root of the sum of squares. */
export function weighingUncertainty(shifts: Float64Array): number {
  return Math.hypot(...shifts);
}

/**
 * Adds to joint draws what weighing does to the first `shifts[k].length` points: each draw weighs each of them anew,
 * and the same wrong masses move all attributes. Every point has the same random numbers, whatever its company.
 */
export function weighDraws(draws: ScoreDraws, shifts: WeighingShifts, random: Random): ScoreDraws {
  const scores = draws.scores.map((own) => own.slice());
  const weighed = shifts[0]?.map(({ length }) => length) ?? [];
  weighed.forEach((masses, i) => {
    const own = random.fork('masses');
    for (let d = 0; d < draws.count; d++)
      for (let j = 0; j < masses; j++) {
        const z = own.normal();
        scores.forEach((drawn, k) => {
          drawn[d * draws.points + i]! += shifts[k]![i]![j]! * z;
        });
      }
  });
  return { ...draws, scores };
}

interface Move {
  component: number;
  /** Change of the component's mass over the batch. */
  by: number;
  /** The part of one standard uncertainty that it is. */
  part: number;
}

function movesOf(shares: readonly number[], grid: WeighingGrid): Move[] {
  const { grams } = grid.batch;
  return shares.flatMap((share, component) => {
    if (share <= NOT_WEIGHED) return [];
    const { strength } = formFor(grid, component, share * grid.total);
    const uncertainty = (massUncertainty(grid.batch) * (strength / 100)) / grams;
    const by = Math.min(uncertainty, share / 2);
    return [{ component, by, part: by / uncertainty }];
  });
}

function along({ shares, settings }: Point, { component, by }: Move, sign: number): Point {
  const step = sign * by;
  return { shares: shares.map((x, i) => x + step * (Number(i === component) - x)), settings };
}
