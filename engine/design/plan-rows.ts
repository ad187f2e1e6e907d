import { dot } from '../numeric/dense.ts';
import { mixOnGrid } from '../region/weighable.ts';
import type { PolishedDesign } from './grid-polish.ts';
import type { GridSpot } from './grid-spot.ts';
import { lostRow } from './judge-plan.ts';
import { reasonFor, reasonForBottle, reasonForRepeat } from './mix-reason.ts';
import type { PlanProblem } from './plan-problem.ts';
import type { PlannedMix } from './plan-types.ts';
import { orthonormalTerms } from './term-space.ts';

/** The mixes of a polished design with names, bottles and reasons; repeats come last. */
export function planRows(problem: PlanProblem, design: PolishedDesign): PlannedMix[] {
  const pinned = new Set<GridSpot>(problem.pinned);
  const found = design.spots.map((spot, r) => ({ spot, weight: design.weights[r]! }));
  const firsts = [...found, ...problem.pinned.map((spot) => ({ spot, weight: 1 }))].sort(byPlace);
  const names = newNames(
    problem,
    firsts.reduce((sum, { weight }) => sum + weight, 0),
  );
  const rows: PlannedMix[] = [];
  const seen = new Map<string, string>();
  const bottles = new Map<string, string>();
  const again: { spot: GridSpot; of: string }[] = [];
  for (const { spot, weight } of firsts) {
    const key = `${spot.point.units.join()} ${spot.coded.join()}`;
    const twin = seen.get(key);
    const repeats = twin === undefined ? weight - 1 : weight;
    const name = twin ?? names.shift()!;
    for (let k = 0; k < repeats; k++) again.push({ spot, of: name });
    if (twin !== undefined) continue;
    seen.set(key, name);
    const bottle = bottles.get(spot.point.units.join());
    if (bottle === undefined) bottles.set(spot.point.units.join(), name);
    const why =
      bottle === undefined ? reasonFor(problem.region, spot) : reasonForBottle(problem.region, spot, bottle);
    const held = pinned.has(spot) ? { pinned: true as const } : {};
    rows.push({ ...rowOf(problem, design, spot), mix: name, blend: bottle ?? name, ...held, why });
  }
  for (const { spot, of } of again) {
    const mix = names.shift()!;
    rows.push({ ...rowOf(problem, design, spot), mix, blend: mix, repeats: of, why: reasonForRepeat(of) });
  }
  return rows;
}

/** Richest in the first component first, poured low before high. */
function byPlace(a: { spot: GridSpot }, b: { spot: GridSpot }): number {
  const [x, y] = [a.spot, b.spot];
  for (let i = 0; i < x.point.units.length; i++)
    if (x.point.units[i] !== y.point.units[i]) return y.point.units[i]! - x.point.units[i]!;
  for (let s = 0; s < x.coded.length; s++) if (x.coded[s] !== y.coded[s]) return x.coded[s]! - y.coded[s]!;
  return 0;
}

/** m13, m14 after m12; a name that a mix or bottle has already is passed over. */
function newNames({ input }: PlanProblem, count: number): string[] {
  const taken = new Set((input.already ?? []).flatMap(({ mix, blend }) => [mix, blend]));
  const numbers = [...taken].flatMap((name) => {
    const number = /^m(\d{1,9})$/.exec(name)?.[1];
    return number === undefined ? [] : [Number(number)];
  });
  const last = numbers.reduce((most, n) => Math.max(most, n), 0);
  return Array.from({ length: count }, (_, k) => `m${last + k + 1}`);
}

function rowOf(problem: PlanProblem, design: PolishedDesign, spot: GridSpot) {
  const { region, grid, levels, input } = problem;
  const { grams, shares, weigh } = mixOnGrid(region, spot.point, grid);
  const g = orthonormalTerms(problem.space, spot.shares, spot.coded);
  return {
    ratios: byId(input.space.components, shares),
    grams: byId(input.space.components, grams),
    settings: byId(
      input.space.settings,
      spot.coded.map((z, s) => levels[s]!.values[levels[s]!.coded.indexOf(z)]!),
    ),
    ...(weigh ? { weigh: weigh.filter((one) => one.grams > 0) } : {}),
    leverage: dot(g, design.state.times(g)),
    lost: design.state.sound ? lostRow(design.state, g) : null,
  };
}

function byId(list: readonly { id: string }[], values: readonly number[]): Record<string, number> {
  return Object.fromEntries(list.map(({ id }, i) => [id, values[i]!]));
}
