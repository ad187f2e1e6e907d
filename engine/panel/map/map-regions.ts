import { EngineError } from '../../errors.ts';
import { checkpoint, type Hooks } from '../../hooks.ts';
import { chiSquareQuantile, chiSquareUpper } from '../../numeric/chi-square.ts';
import type { Random } from '../../numeric/random.ts';
import { type MapOptions, type PrincipalMap, principalMap } from './principal-map.ts';
import { procrustes } from './procrustes.ts';

/** An ellipse: centre, half axes and the angle (radians) of the longer from the first component. */
export interface Region {
  centre: [number, number];
  halfAxes: [number, number];
  angle: number;
}

export interface MapWithRegions {
  map: PrincipalMap;
  /** One a mix: where its mean would lie in 95 of 100 panels like this one; empty where there is no map. */
  regions: Region[];
  /** p that two mixes lie at the same place of the map; small = they differ. */
  pairs: { a: number; b: number; p: number | null }[];
  draws: number;
  reason: string | null;
}

export interface RegionOptions extends MapOptions {
  /** Panels drawn, default 500. */
  draws?: number;
  /** Default 0.95. */
  level?: number;
  hooks?: Hooks;
}

/** Scores of each assessor: mixes × attributes, null where missing. */
export type AssessorTables = readonly (readonly (readonly (number | null)[])[])[];

/**
 * The map of the panel's means with a region for each mix, by drawing whole assessors anew with replacement, making
 * the map again and turning it onto the first. Source: Cadoret and Husson 2013, Food Qual. Prefer. 30, 106-115 (total
 * bootstrap with Procrustes rotation); ellipses from the normal approximation to the drawn points.
 *
 * @param assessors at least 2, each mixes × attributes; a missing score is made up for by what the assessor's other
 *   scores and the panel's mean of that mix say (assessor + mix)
 */
export function mapWithRegions(
  assessors: AssessorTables,
  random: Random,
  options: RegionOptions = {},
): MapWithRegions {
  const { draws = 500, level = 0.95, hooks } = options;
  if (assessors.length < 2)
    throw new EngineError('bad-argument', 'assessors', assessors.length, 'at least 2');
  const map = principalMap(panelMeans(assessors), { ...options, components: 2 });
  const none = { map, regions: [], pairs: [], draws: 0 };
  if (map.status !== 'estimated') return { ...none, reason: map.reason };
  if (map.scores[0]!.length < 2) return { ...none, reason: 'the mixes differ along one line only' };
  const clouds = map.scores.map(() => [] as number[][]);
  for (let d = 0; d < draws; d++) {
    if (d % 25 === 0) checkpoint(hooks, d / draws, 'drawing panels');
    drawnPoints(assessors, map, random, options)?.forEach((point, mix) => {
      clouds[mix]!.push(point);
    });
  }
  const regions = clouds.map((cloud, mix) => ellipse(covarianceOf(cloud), map.scores[mix]!, level));
  return { map, regions, pairs: pairsOf(map, clouds), draws: clouds[0]!.length, reason: null };
}

function drawnPoints(assessors: AssessorTables, map: PrincipalMap, random: Random, options: MapOptions) {
  const drawn = assessors.map(() => assessors[random.integer(assessors.length)]!);
  const means = panelMeans(drawn, panelMeans(assessors));
  const again = principalMap(means, { ...options, components: 2 });
  if (again.status !== 'estimated' || again.scores[0]!.length < 2) return null;
  return procrustes(again.scores, map.scores);
}

/**
 * Means of each mix and attribute over assessors. With gaps: each assessor's level is taken off first (measured
 * against the mixes they scored), so that who is missing does not move a mix. `fallback` serves a mix nobody drawn
 * has scored.
 */
function panelMeans(assessors: AssessorTables, fallback?: number[][]): number[][] {
  const mixes = assessors[0]!.length;
  const width = assessors[0]![0]!.length;
  const out = Array.from({ length: mixes }, () => new Array<number>(width).fill(0));
  for (let j = 0; j < width; j++) {
    const column = assessors.map((table) => table.map((row) => row[j]!));
    additiveMeans(column).forEach((v, mix) => {
      if (v === null && !fallback)
        throw new EngineError('bad-argument', `assessors[][${mix}][${j}]`, null, 'a score by somebody');
      out[mix]![j] = v ?? fallback![mix]![j]!;
    });
  }
  return out;
}

/** Mix means of assessor + mix by least squares, by turns (Gauss-Seidel), which is the plain mean without gaps. */
function additiveMeans(scores: readonly (readonly (number | null)[])[]): (number | null)[] {
  const mixes = scores[0]!.length;
  const level = scores.map(() => 0);
  let means: (number | null)[] = [];
  for (let round = 0; round < 200; round++) {
    means = Array.from({ length: mixes }, (_, m) =>
      meanOf(scores.map((row, a) => (row[m] == null ? null : row[m]! - level[a]!))),
    );
    if (scores.every((row) => row.every((v) => v !== null))) return means;
    const next = scores.map(
      (row) => meanOf(row.map((v, m) => (v == null || means[m] == null ? null : v - means[m]!))) ?? 0,
    );
    const overall = next.reduce((sum, v) => sum + v, 0) / next.length;
    const move = Math.max(...next.map((v, a) => Math.abs(v - overall - level[a]!)));
    next.forEach((v, a) => {
      level[a] = v - overall;
    });
    if (move < 1e-12) break;
  }
  return means;
}

function meanOf(values: readonly (number | null)[]): number | null {
  const seen = values.filter((v): v is number => v !== null);
  return seen.length === 0 ? null : seen.reduce((sum, v) => sum + v, 0) / seen.length;
}

/** [var x, cov, var y] of drawn points. */
function covarianceOf(cloud: readonly (readonly number[])[]): [number, number, number] {
  const [mx, my] = [0, 1].map((c) => cloud.reduce((sum, p) => sum + p[c]!, 0) / cloud.length) as [
    number,
    number,
  ];
  const sums = [0, 0, 0];
  for (const [x, y] of cloud) {
    sums[0]! += (x! - mx) ** 2;
    sums[1]! += (x! - mx) * (y! - my);
    sums[2]! += (y! - my) ** 2;
  }
  return sums.map((s) => s / (cloud.length - 1)) as [number, number, number];
}

function ellipse([xx, xy, yy]: [number, number, number], at: readonly number[], level: number): Region {
  const middle = (xx + yy) / 2;
  const half = Math.hypot((xx - yy) / 2, xy);
  const radius = Math.sqrt(chiSquareQuantile(level, 2));
  return {
    centre: [at[0]!, at[1]!],
    halfAxes: [radius * Math.sqrt(middle + half), radius * Math.sqrt(Math.max(0, middle - half))],
    angle: Math.atan2(2 * xy, xx - yy) / 2,
  };
}

/** The squared distance of two mixes in units of how it varies over the drawn panels, read as chi-square on 2. */
function pairsOf(map: PrincipalMap, clouds: readonly number[][][]): MapWithRegions['pairs'] {
  return map.scores.flatMap((from, a) =>
    map.scores.slice(a + 1).map((to, i) => {
      const b = a + 1 + i;
      const [xx, xy, yy] = covarianceOf(
        clouds[a]!.map((p, d) => [p[0]! - clouds[b]![d]![0]!, p[1]! - clouds[b]![d]![1]!]),
      );
      const [dx, dy] = [from[0]! - to[0]!, from[1]! - to[1]!];
      const det = xx * yy - xy * xy;
      const distance = (yy * dx * dx - 2 * xy * dx * dy + xx * dy * dy) / det;
      return { a, b, p: det > 0 ? chiSquareUpper(distance, 2) : null };
    }),
  );
}
