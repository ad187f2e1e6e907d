import { emptyChart } from './empty-chart.ts';
import { NAME_MARK, namesBeside } from './names-beside.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

/** A mix on the map with the outline of where it may lie; no outline where that cannot be told. */
export interface MapMix {
  mix: string;
  x: number;
  y: number;
  outline: readonly (readonly [number, number])[];
}

export interface MapData {
  title: string;
  mixes: readonly MapMix[];
  /** Which way each attribute grows; length 1 = all of it lies in this plane. */
  attributes: readonly { name: string; x: number; y: number }[];
  /** Share of what differs that each way across shows. */
  explained: readonly [number, number];
}

/** Mixes that taste alike lie together; strokes show which way each attribute grows. */
export function mapChart(data: MapData, { width, theme }: ChartFrame): Spec {
  if (data.mixes.length === 0) return emptyChart(data.title, { width, theme });
  const side = Math.min(width - 70, 560);
  const reach =
    1.12 *
    Math.max(
      1e-9,
      ...data.mixes
        .flatMap(({ x, y, outline }) => [[x, y], ...outline])
        .flat()
        .map(Math.abs),
    );
  const scale = { domain: [-reach, reach], nice: false };
  const title = (share: number) => `${Math.round(100 * share)} % of what differs`;
  const x = {
    type: 'quantitative',
    scale,
    axis: { title: title(data.explained[0]), labels: false, ticks: false, grid: false },
  };
  const y = {
    type: 'quantitative',
    scale,
    axis: { title: title(data.explained[1]), labels: false, ticks: false, grid: false },
  };
  const outlines = data.mixes.flatMap(({ mix, outline }) =>
    outline.map(([px, py], order) => ({ mix, x: px, y: py, order })),
  );
  const ways = data.attributes.map(({ name, x: dx, y: dy }) => ({
    name,
    x: 0,
    y: 0,
    x2: dx * reach * 0.8,
    y2: dy * reach * 0.8,
  }));
  const pixels = (value: number) => (side * (reach + value)) / (2 * reach);
  const named = namesBeside(
    [
      ...ways.map(({ name, x2, y2 }) => ({ name, x: x2, y: y2, way: true })),
      ...data.mixes.map(({ mix, x: px, y: py }) => ({ name: mix, x: px, y: py, way: false })),
    ].map((mark) => ({ ...mark, px: pixels(mark.x), py: side - pixels(mark.y) })),
    { width: side, height: side },
  );
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    width: side,
    height: side,
    layer: [
      {
        data: { values: outlines },
        mark: {
          type: 'line',
          strokeWidth: 1,
          stroke: theme.edge,
          filled: true,
          fill: theme.edge,
          fillOpacity: 0.1,
        },
        encoding: {
          x: { field: 'x', ...x },
          y: { field: 'y', ...y },
          detail: { field: 'mix' },
          order: { field: 'order', type: 'quantitative' },
        },
      },
      {
        data: { values: ways },
        mark: { type: 'rule', color: theme.liquid, strokeWidth: 1.5 },
        encoding: {
          x: { field: 'x', ...x },
          y: { field: 'y', ...y },
          x2: { field: 'x2' },
          y2: { field: 'y2' },
        },
      },
      {
        data: { values: data.mixes.map(({ mix, x: px, y: py }) => ({ mix, x: px, y: py })) },
        mark: { type: 'point', filled: true, color: theme.ink, opacity: 1, size: 50 },
        encoding: { x: { field: 'x', ...x }, y: { field: 'y', ...y }, tooltip: [{ field: 'mix' }] },
      },
      {
        data: { values: named },
        mark: NAME_MARK,
        encoding: {
          x: { field: 'x', ...x },
          y: { field: 'y', ...y },
          text: { field: 'name' },
          color: { condition: { test: 'datum.way', value: theme.liquid }, value: theme.ink },
        },
      },
    ],
  } as Spec;
}
