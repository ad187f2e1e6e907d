import type { NextResult } from '../../engine/aim/next-types.ts';
import type { PlannedMix } from '../../engine/design/plan-types.ts';
import type { AttributeFit as EngineFit, RatioFit, RegionWidths } from '../../engine/model/fit-types.ts';
import type { AsideReading } from '../../engine/panel/asides/aside-types.ts';
import type { Serving, WeighedMix } from '../../engine/panel/observations.ts';
import type { AttributeReading as EngineReading, PanelReading } from '../../engine/panel/reading-types.ts';
import type { Reading, TrialView } from '../../trials/schema/api.ts';
import type { Brief } from '../../trials/schema/brief.ts';
import type { PlanDocument } from '../../trials/schema/plan-document.ts';

export type { NextResult, PlanDocument, PlannedMix };
/** How the ratios move one attribute; readings made before influence was told have none. */
export type AttributeFit = Omit<EngineFit, 'influence'> & Partial<Pick<EngineFit, 'influence'>>;
/** How the panel worked on one attribute; a page opens with its pairs of mixes counted and left out. */
export type AttributeReading = Omit<EngineReading, 'means'> & {
  means: ShownMean[];
  pairs?: { all: number; apart: number };
};
/** What a mix scored, with its 95 % interval where there is one. */
type ShownMean = EngineReading['means'][number] & { interval: readonly [number, number] | null };

/** The ends of a mean's interval as pictures take them. */
export function endsOf({ interval }: ShownMean): { low: number | null; high: number | null } {
  return { low: interval?.[0] ?? null, high: interval?.[1] ?? null };
}
export type Proposal = NextResult['proposals'][number];
export type Candidate = NextResult['best'];

/** A reading of the scores: how the panel worked, and how the ratios move each attribute. */
export interface ReadResult {
  /** Readings made before there were asides have none. */
  panel: Omit<PanelReading, 'attributes'> & { attributes: AttributeReading[]; asides?: AsideReading[] };
  fit: Omit<RatioFit, 'attributes'> & { attributes: AttributeFit[]; region: RegionWidths };
  /** The same without those who know the formula, where some do. */
  withoutKnowing?: { panel: PanelReading; fit: RatioFit };
}

/** What a reading was made from, as it is stored beside it. */
export interface ReadInput {
  brief: Brief;
  mixes: WeighedMix[];
  servings: Serving[];
  knowing: string[];
  setAside: string[];
  warnings: string[];
}

export function planOf(stored: Reading): PlanDocument {
  return stored.result as PlanDocument;
}

export function readOf(stored: Reading): ReadResult {
  return stored.result as ReadResult;
}

export function nextOf(stored: Reading): NextResult {
  return stored.result as NextResult;
}

export function inputOf(stored: Reading): ReadInput {
  return stored.input as ReadInput;
}

/** The stored result of a kind that was made last, or null. */
export function latest(trial: TrialView, kind: Reading['kind'], round?: number): string | null {
  const found = trial.readings
    .filter((one) => one.kind === kind && (round === undefined || one.round === round))
    .sort((a, b) => b.at.localeCompare(a.at));
  return found[0]?.reading ?? null;
}
