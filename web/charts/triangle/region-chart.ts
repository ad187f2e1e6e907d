import { NAME_MARK, namesBeside } from '../names-beside.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from '../theme.ts';
import { edgeLayers, edgeWords } from './edges.ts';
import { bandLayer, outlineLayer } from './layers.ts';
import { roundLevels } from './levels.ts';
import type { Mesh } from './mesh.ts';
import { type Ground, groundOf, isShown, pixelOf } from './picture.ts';
import { type Point, type Three, type TriangleFrame, toPoint } from './plane.ts';

/** A mix on the region. */
export interface RegionMix {
  mix: string;
  shares: Three;
  /** Planned, held by the maker, or weighed already. */
  state: 'planned' | 'held' | 'made';
  /** Lies on this very slice; others are shown where they would be, small. */
  onSlice: boolean;
}

export interface RegionData {
  title: string;
  /** Names of the top, left and right component. */
  names: readonly [string, string, string];
  frame: TriangleFrame;
  outline: readonly Point[];
  mesh: Mesh;
  /** How uncertain a prediction would be at each point of the mesh, as variance of one cup. */
  variances: readonly number[];
  mixes: readonly RegionMix[];
}

/** What is allowed over three components: its corners, the mixes, and where the plan would know least, darker. */
export function regionChart(data: RegionData, { width, theme }: ChartFrame): Spec {
  const ground = groundOf(Math.min(width - 24, 560));
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    width: ground.width,
    height: ground.height,
    layer: [
      ...varianceLayers(data, theme),
      outlineLayer(data.outline, theme.ink),
      cornerLayer(data.outline, theme),
      ...edgeLayers(data.frame, data.names, theme, ground.sidePixels),
      ...mixLayers(data, ground, theme),
    ],
    encoding: ground.encoding,
    resolve: { scale: { color: 'independent' } },
  } as Spec;
}

function varianceLayers({ mesh, variances }: RegionData, theme: ChartFrame['theme']) {
  if (variances.length === 0) return [];
  const levels = roundLevels(Math.min(...variances), Math.max(...variances), theme.bands.length);
  return [bandLayer(mesh, variances, levels, theme)];
}

function cornerLayer(outline: readonly Point[], theme: ChartFrame['theme']) {
  return {
    data: { values: outline.map(([x, y]) => ({ x, y })) },
    mark: { type: 'point', shape: 'square', filled: true, size: 26, color: theme.ink, opacity: 1 },
  };
}

function mixLayers({ frame, mixes, names }: RegionData, ground: Ground, theme: ChartFrame['theme']) {
  const values = mixes
    .map(({ mix, shares, state, onSlice }) => {
      const [x, y] = toPoint(frame, shares);
      return { mix, state, onSlice, x, y, size: onSlice ? 120 : 34 };
    })
    .filter(isShown);
  const named = values
    .filter(({ state, onSlice }) => onSlice || state !== 'made')
    .sort((a, b) => Number(b.onSlice) - Number(a.onSlice))
    .map((mix) => ({ ...mix, name: mix.mix, ...pixelOf(ground, [mix.x, mix.y]) }));
  return [
    {
      data: { values },
      mark: { type: 'point', filled: false, strokeWidth: 2, opacity: 1 },
      encoding: {
        size: { field: 'size', type: 'quantitative', scale: null },
        stroke: { condition: { test: "datum.state === 'made'", value: theme.ink }, value: theme.liquid },
        strokeDash: { condition: { test: "datum.state === 'planned'", value: [3, 2] }, value: [1, 0] },
        tooltip: [{ field: 'mix', title: 'mix' }],
      },
    },
    {
      data: { values: namesBeside(named, ground, edgeWords(frame, names, ground)) },
      mark: NAME_MARK,
      encoding: {
        text: { field: 'name' },
        color: { condition: { test: 'datum.onSlice', value: theme.ink }, value: theme.soft },
      },
    },
  ];
}
