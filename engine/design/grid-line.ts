import { isAllowed } from '../region/region.ts';
import type { DesignState, Leaving } from './design-state.ts';
import type { GridSpot } from './grid-spot.ts';
import { blendLines, gainOnLine, settingLines, termsOnLine } from './line-move.ts';
import type { PlanProblem } from './plan-problem.ts';

/** A better place for a mix on the weighable grid, and what it gains. */
export interface GridMove {
  spot: GridSpot;
  gain: number;
}

/** Lines with more whole steps than this are looked at in so many places, then refined around the best. */
const LOOKS = 32;

/** What is to be shifted, and what a gain must exceed. */
interface Shift {
  spot: GridSpot;
  pair: readonly [number, number];
  least: number;
  /** What each unit of share moved from the second to the first gains beside the criterion. */
  bonus: number;
}

/** The best whole number of steps moved from one component to another; null where none gains more than `least`. */
export function bestShift(
  problem: PlanProblem,
  state: DesignState,
  leaving: Leaving,
  { spot, pair: [i, j], least, bonus }: Shift,
): GridMove | null {
  const { region, grid, space, degree } = problem;
  const { units, forms } = spot.point;
  const unit = Math.max(forms[i]!.unit, forms[j]!.unit);
  if (unit % forms[i]!.unit !== 0 || unit % forms[j]!.unit !== 0) return null;
  const direction = units.map((_, k) => (k === i ? 1 : k === j ? -1 : 0));
  if (region.equalities.some(({ coefficients }) => coefficients[i] !== coefficients[j])) return null;
  const line = blendLines(region, spot, [direction])[0];
  if (line === undefined) return null;
  const step = unit / grid.total;
  const from = Math.ceil(line.from / step - 1e-6);
  const to = Math.floor(line.to / step + 1e-6);
  if (to <= from) return null;
  const bare = gainOnLine(state, leaving, termsOnLine(space, line, Math.max(1, degree)));
  const gain = (t: number) => bare(t) + bonus * t;
  const best = bestWhole((k) => (k === 0 ? 0 : gain(k * step)), from, to);
  for (let { at } = best; at !== 0; at -= Math.sign(at)) {
    if (gain(at * step) <= least) return null;
    const moved = units.with(i, units[i]! + at * unit).with(j, units[j]! - at * unit);
    const shares = moved.map((u) => u / grid.total);
    if (moved[i]! >= 0 && moved[j]! >= 0 && isAllowed(region, shares))
      return { spot: { ...spot, point: { units: moved, forms }, shares }, gain: gain(at * step) };
  }
  return null;
}

/** The best of the offered values of one setting; null where none gains more than `least`. */
export function bestLevel(
  problem: PlanProblem,
  state: DesignState,
  leaving: Leaving,
  { spot, setting, least }: { spot: GridSpot; setting: number; least: number },
): GridMove | null {
  const { region, space, levels } = problem;
  const line = settingLines(region, spot).find((one) => one.setting === setting);
  if (line === undefined) return null;
  const gain = gainOnLine(state, leaving, termsOnLine(space, line, 2));
  let best: GridMove | null = null;
  for (const level of levels[setting]!.coded) {
    const here = gain(level - spot.coded[setting]!);
    if (here > (best?.gain ?? least) && level !== spot.coded[setting])
      best = { spot: { ...spot, coded: spot.coded.with(setting, level) }, gain: here };
  }
  return best;
}

/** The whole number in from..to with the largest value: evenly spread looks, then halving steps. */
function bestWhole(value: (k: number) => number, from: number, to: number): { at: number; value: number } {
  const stride = Math.max(1, Math.ceil((to - from) / LOOKS));
  let best = { at: 0, value: 0 };
  const look = (at: number): void => {
    if (at < from || at > to) return;
    const here = value(at);
    if (here > best.value) best = { at, value: here };
  };
  for (let k = from; k < to; k += stride) look(k);
  look(to);
  look(-1);
  look(1);
  for (let step = stride >> 1; step >= 1; step >>= 1) {
    const centre = best.at;
    look(centre - step);
    look(centre + step);
  }
  return best;
}
