import { type AimedAttribute, matchingBand } from '../aims.ts';
import { NAME_MARK, namesBeside } from '../names-beside.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from '../theme.ts';
import { hatch, piecesBetween, ringsOf } from './bands.ts';
import { edgeLayers, edgeWords } from './edges.ts';
import { bandLayer, outlineLayer, path } from './layers.ts';
import { roundLevels } from './levels.ts';
import type { Mesh } from './mesh.ts';
import { type Ground, groundOf, isShown, pixelOf } from './picture.ts';
import { type Point, type Three, type TriangleFrame, toPoint } from './plane.ts';

/** A mix on the triangle. */
export interface TriangleMix {
  mix: string;
  shares: Three;
  /** How often it was poured: a ring each. 0 = not yet tasted. */
  pours: number;
  /** Lies on this very slice; others are shown where they would be, small. */
  onSlice: boolean;
}

export interface TriangleData {
  title: string;
  attribute: AimedAttribute;
  /** Names of the top, left and right component. */
  names: readonly [string, string, string];
  frame: TriangleFrame;
  outline: readonly Point[];
  mesh: Mesh;
  /** Predicted score and half its 95 % interval at each point of the mesh. */
  means: readonly number[];
  halfWidths: readonly number[];
  /** A prediction less sure than this, in points, is veiled. */
  veilAbove: number;
  mixes: readonly TriangleMix[];
}

/**
 * One attribute over three components: filled contours in one hue, the matching part outlined and hatched, a veil
 * where the panel cannot know, and a ring for each pour of a mix.
 */
export function triangleChart(data: TriangleData, { width, theme }: ChartFrame): Spec {
  const ground = groundOf(Math.min(width - 24, 620));
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    width: ground.width,
    height: ground.height,
    layer: [
      ...contourLayers(data, theme),
      ...veilLayers(data, theme),
      ...matchLayers(data, theme),
      outlineLayer(data.outline, theme.ink),
      ...edgeLayers(data.frame, data.names, theme, ground.sidePixels),
      ...mixLayers(data, ground, theme),
    ],
    encoding: ground.encoding,
    resolve: { scale: { color: 'independent' } },
  } as Spec;
}

/** Levels of the contours: round numbers over what the surface spans. */
export function contourLevels(means: readonly number[], bands: number): number[] {
  return roundLevels(Math.min(...means), Math.max(...means), bands);
}

function contourLayers(data: TriangleData, theme: ChartFrame['theme']) {
  const levels = contourLevels(data.means, theme.bands.length);
  return [bandLayer(data.mesh, data.means, levels, theme), levelLabels(data, levels, theme)];
}

/** Numbers on the levels, each where it first crosses a ray from the middle outwards. */
function levelLabels(data: TriangleData, levels: readonly number[], theme: ChartFrame['theme']) {
  return {
    data: { values: placedLevels(data, levels) },
    mark: { type: 'text', color: theme.ink, fontSize: 11 },
    encoding: { text: { field: 'label' } },
  };
}

function placedLevels(data: TriangleData, levels: readonly number[]) {
  return levels.flatMap((level) => {
    const at = crossingNear(data, level);
    return at === null ? [] : [{ x: at[0], y: at[1], label: String(level) }];
  });
}

function crossingNear({ mesh, means }: TriangleData, level: number): Point | null {
  let best: Point | null = null;
  let nearest = Infinity;
  for (const [i, j, k] of mesh.triangles)
    for (const [a, b] of [
      [i, j],
      [j, k],
      [k, i],
    ] as const) {
      const here = means[a]! - level;
      const there = means[b]! - level;
      if (here * there >= 0) continue;
      const t = here / (here - there);
      const p = mesh.points[a]!;
      const q = mesh.points[b]!;
      const point: Point = [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])];
      const away = Math.hypot(point[0] - mesh.points[0]![0], point[1] - mesh.points[0]![1]);
      if (away < nearest) [nearest, best] = [away, point];
    }
  return best;
}

function veilLayers({ mesh, halfWidths, veilAbove }: TriangleData, theme: ChartFrame['theme']) {
  const rings = ringsOf(piecesBetween(mesh, halfWidths, veilAbove, Infinity));
  if (rings.length === 0) return [];
  return [
    {
      data: { values: path(rings, { band: 'veil' }) },
      mark: {
        type: 'line',
        filled: true,
        fill: theme.paper,
        fillOpacity: 0.72,
        stroke: theme.edge,
        strokeWidth: 1,
        strokeDash: [2, 3],
      },
      encoding: { order: { field: 'order', type: 'quantitative' } },
    },
  ];
}

function matchLayers({ attribute, mesh, means }: TriangleData, theme: ChartFrame['theme']) {
  const band = matchingBand(attribute);
  if (band === null) return [];
  const pieces = piecesBetween(mesh, means, band[0], band[1]);
  if (pieces.length === 0) return [];
  const strokes = hatch(pieces, 0.03, 1).map(([from, to]) => ({
    x: from[0],
    y: from[1],
    x2: to[0],
    y2: to[1],
  }));
  return [
    {
      data: { values: strokes },
      mark: { type: 'rule', color: theme.aim, strokeWidth: 0.9, opacity: 0.8 },
      encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
    },
    {
      data: { values: path(ringsOf(pieces), { band: 'match' }) },
      mark: { type: 'line', color: theme.aim, strokeWidth: 1.8 },
      encoding: { order: { field: 'order', type: 'quantitative' } },
    },
  ];
}

function mixLayers(data: TriangleData, ground: Ground, theme: ChartFrame['theme']) {
  const { frame, mixes } = data;
  const placed = mixes.map(({ mix, shares, pours, onSlice }) => {
    const [x, y] = toPoint(frame, shares);
    return { mix, x, y, pours, onSlice };
  });
  const shown = placed.filter(isShown);
  const rings = shown.flatMap((mix) =>
    Array.from({ length: Math.min(4, Math.max(1, mix.pours)) }, (_, ring) => ({
      ...mix,
      size: (mix.onSlice ? 60 : 18) * (1 + 0.9 * ring) ** 2,
    })),
  );
  const named = [...shown]
    .sort((a, b) => Number(b.onSlice) - Number(a.onSlice) || b.pours - a.pours)
    .map((mix) => ({ ...mix, name: mix.mix, ...pixelOf(ground, [mix.x, mix.y]) }));
  const levels = placedLevels(data, contourLevels(data.means, theme.bands.length)).map(({ x, y, label }) => ({
    name: label,
    ...pixelOf(ground, [x, y]),
  }));
  const standing = [...levels, ...edgeWords(frame, data.names, ground)];
  const tooltip = [
    { field: 'mix', title: 'mix' },
    { field: 'pours', title: 'times poured' },
  ];
  return [
    {
      data: { values: rings },
      mark: { type: 'point', filled: false, strokeWidth: 1.8, opacity: 1 },
      encoding: {
        size: { field: 'size', type: 'quantitative', scale: null },
        stroke: { condition: { test: 'datum.pours > 0', value: theme.ink }, value: theme.liquid },
        strokeDash: { condition: { test: 'datum.pours > 0', value: [1, 0] }, value: [3, 2] },
      },
    },
    {
      data: { values: namesBeside(named, ground, standing) },
      mark: { ...NAME_MARK, color: theme.ink },
      encoding: { text: { field: 'name' } },
    },
    {
      data: { values: shown },
      mark: { type: 'point', filled: true, opacity: 0, size: 700, cursor: 'pointer' },
      encoding: { tooltip },
    },
  ];
}
