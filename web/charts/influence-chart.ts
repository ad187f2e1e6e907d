import { emptyChart } from './empty-chart.ts';
import { nameAxis } from './names.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

/** What a model owes to one mix, as the engine tells it; null where it cannot be told. */
export interface InfluenceRow {
  mix: string;
  /** By how much the model moves there once the mix is left out: points of the scale, and standard errors. */
  moves: number | null;
  shift: number | null;
  /** Share of what is known there that its own scores give, 0 to 1. */
  leverage: number | null;
  /** Cook's distance. */
  distance: number | null;
}

export interface InfluenceData {
  title: string;
  rows: readonly InfluenceRow[];
  /** Terms of the model. */
  terms: number;
}

const ROW = 22;
/** So many can be read in one picture; the table has all. */
const MOST = 24;
/** From this share on a mix is drawn as a ring: most of what is known there it says alone. */
export const ALONE = 0.5;

/**
 * Beyond this many standard errors a mix is worth a look: 2√(terms/mixes) (Belsley, Kuh and Welsch 1980, Regression
 * Diagnostics, chapter 2).
 */
export function worthALook({ terms, rows }: Pick<InfluenceData, 'terms' | 'rows'>): number {
  return 2 * Math.sqrt(terms / Math.max(1, rows.length));
}

/** Mixes that can be told, those that move the model most on top (by Cook's distance). */
export function byInfluence(rows: readonly InfluenceRow[]): (InfluenceRow & { shift: number })[] {
  return rows
    .filter((row): row is InfluenceRow & { shift: number } => row.shift !== null)
    .sort((a, b) => (b.distance ?? 0) - (a.distance ?? 0));
}

/** A stroke a mix: how far, and which way, the model moves at its ratios because it was tasted. */
export function influenceChart(data: InfluenceData, { width, theme }: ChartFrame): Spec {
  const rows = byInfluence(data.rows).slice(0, MOST);
  if (rows.length === 0) return emptyChart(data.title, { width, theme });
  const bound = worthALook(data);
  const reach = 1.1 * Math.max(bound, ...rows.map(({ shift }) => Math.abs(shift)));
  const x = {
    type: 'quantitative',
    scale: { domain: [-reach, reach], nice: false },
    axis: { title: 'standard errors', grid: false, tickCount: 5 },
  };
  const y = {
    field: 'mix',
    type: 'nominal',
    scale: { domain: rows.map(({ mix }) => mix) },
    axis: nameAxis(theme.ink),
  };
  const values = rows.map(({ mix, shift, moves, leverage }) => ({
    ...{ mix, shift, moves, alone: 100 * (leverage ?? 0), ring: (leverage ?? 0) >= ALONE },
  }));
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    width: Math.max(120, Math.min(520, width - 120)),
    height: ROW * rows.length,
    layer: [
      {
        data: { values: [{ at: -bound }, { at: bound }] },
        mark: { type: 'rule', color: theme.edge, strokeDash: [3, 3] },
        encoding: { x: { field: 'at', ...x } },
      },
      {
        data: { values: [{ at: 0 }] },
        mark: { type: 'rule', color: theme.edge },
        encoding: { x: { field: 'at', ...x } },
      },
      {
        data: { values },
        mark: { type: 'rule', color: theme.ink, strokeWidth: 1.5 },
        encoding: { y, x: { field: 'shift', ...x }, x2: { datum: 0 } },
      },
      {
        data: { values },
        mark: { type: 'point', filled: true, stroke: theme.ink, strokeWidth: 1.5, opacity: 1, size: 55 },
        encoding: {
          y,
          x: { field: 'shift', ...x },
          fill: { condition: { test: 'datum.ring', value: theme.paper }, value: theme.ink },
          tooltip: [
            { field: 'mix' },
            { field: 'moves', title: 'points', format: '+.2~r' },
            { field: 'shift', title: 'standard errors', format: '+.2f' },
            { field: 'alone', title: 'said by itself, in 100', format: '.0f' },
          ],
        },
      },
    ],
  } as Spec;
}
