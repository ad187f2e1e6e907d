import type { Region } from '../region/region.ts';
import type { Spot } from './candidate-table.ts';
import type { SearchProblem } from './plan-problem.ts';
import { staysWithin, type Taking } from './scarce.ts';

/** Two mixes that differ by less than a twentieth of every range teach what one weighed twice does. */
export function nearlySame({ region }: { region: Region }, a: Spot, b: Spot): boolean {
  return (
    a.coded.every((z, s) => Math.abs(z - b.coded[s]!) < 0.1) &&
    a.shares.every((v, i) => Math.abs(v - b.shares[i]!) <= 0.05 * (region.high[i]! - region.low[i]!) + 1e-12)
  );
}

/** Whether a mix comes too near to one that the maker forbids. */
export function isForbidden(problem: SearchProblem, spot: Spot): boolean {
  return problem.forbidden.some((other) => nearlySame(problem, other, spot));
}

/**
 * Whether a mix may stand at a place: nowhere near a forbidden one, taking no more of a scarce component than there
 * is; and, where fresh weighings are asked for by number or components are screened, on no other mix, since it would
 * be one weighing more.
 */
export function mayStand(problem: SearchProblem, taking: Taking, row: number, spot: Spot): boolean {
  const { spots } = taking;
  if (isForbidden(problem, spot) || !staysWithin(problem.scarce, taking, row, spot)) return false;
  if (problem.replicated === 0 && !problem.onlyListed) return true;
  return (
    spots.every((other, r) => r === row || !nearlySame(problem, other, spot)) &&
    problem.pinned.every((other) => !nearlySame(problem, other, spot))
  );
}
