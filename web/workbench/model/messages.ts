import type { Chances } from '../../../engine/model/chance.ts';
import type { RegionWidths } from '../../../engine/model/fit-types.ts';
import type { Point } from '../../../engine/model/posterior-types.ts';
import type { PanelMap } from '../../../engine/panel/map/panel-map.ts';
import type { ReadInput } from '../results.ts';

/** What the page asks of the engine that runs beside it. */
export type Question =
  | { id: number; ask: 'learn'; input: ReadInput; region: RegionWidths }
  | { id: number; ask: 'scores'; points: readonly Point[] }
  | { id: number; ask: 'chances'; points: readonly Point[]; draws: number }
  | { id: number; ask: 'map' };

/** Scores at each point asked about, cut to the scale. */
export interface Scores {
  mean: Float64Array;
  low: Float64Array;
  high: Float64Array;
}

export type Answer =
  | { id: number; done: 'learnt' }
  /** By attribute in the order of the brief; null where it could not be modelled. */
  | { id: number; done: 'scores'; scores: (Scores | null)[] }
  | { id: number; done: 'chances'; chances: Chances }
  | ({ id: number; done: 'map' } & PanelMap)
  | { id: number; done: 'failed'; message: string };
