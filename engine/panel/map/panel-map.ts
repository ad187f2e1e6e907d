import type { Hooks } from '../../hooks.ts';
import type { Random } from '../../numeric/random.ts';
import { isAnalysed, mixOrder } from '../cups.ts';
import type { Serving } from '../observations.ts';
import { type MapWithRegions, mapWithRegions } from './map-regions.ts';

/** The map of a panel's scores: which mixes are on it, and where. */
export interface PanelMap {
  mixes: string[];
  /** Which attributes are on it, by their place: one that nobody scored is left off. */
  questions: number[];
  /** Null where there can be no map, with a reason. */
  map: MapWithRegions | null;
  reason: string | null;
}

export interface PanelMapOptions {
  /** Panels drawn for the regions, default 500. */
  draws?: number;
  setAside?: readonly string[] | undefined;
  hooks?: Hooks;
}

/**
 * Mixes and attributes on one map with a region for each mix, from servings: each assessor's mean over repeats. A mix
 * that nobody scored on some attribute is left off, and so is an attribute that nobody scored on any mix.
 *
 * @param attributes how many scores a serving has
 */
export function panelMap(
  servings: readonly Serving[],
  attributes: number,
  random: Random,
  { draws = 500, setAside = [], hooks }: PanelMapOptions = {},
): PanelMap {
  const heard = servings.filter((serving) => isAnalysed(serving) && !setAside.includes(serving.assessor));
  const cells = new Map<string, { sum: number; count: number }>();
  const key = (mix: string, assessor: string | null, k: number) => JSON.stringify([mix, assessor, k]);
  for (const { mix, assessor, scores } of heard)
    scores.forEach((score, k) => {
      if (score === null) return;
      for (const whose of [assessor, null]) {
        const cell = cells.get(key(mix, whose, k)) ?? { sum: 0, count: 0 };
        cells.set(key(mix, whose, k), { sum: cell.sum + score, count: cell.count + 1 });
      }
    });
  const questions = Array.from({ length: attributes }, (_, k) => k).filter((k) =>
    heard.some(({ scores }) => (scores[k] ?? null) !== null),
  );
  const mixes = [...new Set(heard.map(({ mix }) => mix))]
    .sort(mixOrder)
    .filter((mix) => questions.every((k) => cells.has(key(mix, null, k))));
  const assessors = [...new Set(heard.map(({ assessor }) => assessor))];
  if (mixes.length < 3)
    return { mixes, questions, map: null, reason: 'fewer than three mixes were scored on everything' };
  if (assessors.length < 2)
    return { mixes, questions, map: null, reason: 'one assessor: no region can be drawn' };
  const tables = assessors.map((assessor) =>
    mixes.map((mix) =>
      questions.map((k) => {
        const cell = cells.get(key(mix, assessor, k));
        return cell ? cell.sum / cell.count : null;
      }),
    ),
  );
  const map = mapWithRegions(tables, random, { draws, ...(hooks ? { hooks } : {}) });
  return { mixes, questions, map, reason: map.reason };
}
