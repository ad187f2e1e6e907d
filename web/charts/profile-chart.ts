import { type AimedAttribute, matchingBand } from './aims.ts';
import { columnsFor } from './columns.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec, wrapped } from './theme.ts';

/** One mix on one attribute, with its 95 % interval where there is one. */
export interface ProfilePoint {
  mix: string;
  attribute: string;
  mean: number;
  low: number | null;
  high: number | null;
}

export interface ProfileData {
  title: string;
  attributes: readonly AimedAttribute[];
  /** Names from top to bottom. */
  mixes: readonly string[];
  points: readonly ProfilePoint[];
  /** Tasted points are filled ink, predicted ones open rings of liquid. */
  kind: 'tasted' | 'predicted';
}

const LABELS = 84;
const GAP = 14;
const ROW = 22;

/**
 * Each mix against the target: a column an attribute, a row a mix, the target with its tolerance running through.
 * Columns wrap where the place is narrow.
 */
export function profileChart(data: ProfileData, { width, theme }: ChartFrame): Spec {
  const labels = width < 480 ? 64 : LABELS;
  const columns = columnsFor(data.attributes.length, width - labels, width < 480 ? 110 : 128);
  const across = Math.floor((width - labels - 16 - GAP * (columns - 1)) / columns);
  return {
    $schema: SCHEMA,
    title: data.title,
    config: { ...baseConfig(theme), concat: { spacing: GAP } },
    columns,
    align: 'each',
    bounds: 'flush',
    spacing: { row: 56, column: GAP },
    concat: data.attributes.map((attribute, index) => ({
      ...column(data, attribute, theme, index % columns === 0 ? labels : null),
      width: across,
      height: ROW * data.mixes.length,
      title: {
        text: wrapped(attribute.name, Math.floor(across / 7)),
        fontWeight: 'normal',
        fontSize: 13,
        offset: 8,
      },
    })),
  } as Spec;
}

function column(
  data: ProfileData,
  attribute: AimedAttribute,
  theme: ChartFrame['theme'],
  labels: number | null,
) {
  const values = data.points
    .filter((point) => point.attribute === attribute.id)
    .map((point) => ({ ...point }));
  const y = {
    field: 'mix',
    type: 'nominal',
    scale: { domain: [...data.mixes] },
    axis:
      labels === null
        ? null
        : {
            title: null,
            domain: false,
            ticks: false,
            labelColor: theme.ink,
            labelLimit: labels - 8,
            minExtent: labels,
            maxExtent: labels,
          },
  };
  return {
    layer: [...aimLayers(attribute, theme), ...pointLayers(data.kind, theme, y)],
    data: { values },
    encoding: {
      x: {
        type: 'quantitative',
        scale: { domain: [...attribute.scale], nice: false, zero: false },
        axis: { title: null, values: [...attribute.scale], grid: false, labelFlush: true },
      },
    },
  };
}

/** The matching band as an outline with a thin tint, the target itself as a line or a block. */
function aimLayers(attribute: AimedAttribute, theme: ChartFrame['theme']) {
  const band = matchingBand(attribute);
  if (band === null || attribute.aim?.kind !== 'band') return [];
  const { from, to } = attribute.aim;
  const x = (low: number, high: number) => ({ x: { datum: low }, x2: { datum: high } });
  const tint = {
    type: 'rect',
    color: theme.aim,
    fillOpacity: 0.1,
    stroke: theme.aim,
    strokeDash: [3, 3],
    strokeWidth: 1,
  };
  const target =
    from === to
      ? {
          mark: { type: 'rule', color: theme.aim, strokeWidth: 2 },
          encoding: { x: { datum: from } },
        }
      : { mark: { type: 'rect', color: theme.aim, fillOpacity: 0.16 }, encoding: x(from, to) };
  return [
    { data: { values: [{}] }, mark: tint, encoding: x(...band) },
    { data: { values: [{}] }, ...target },
  ];
}

function pointLayers(kind: ProfileData['kind'], theme: ChartFrame['theme'], y: object) {
  const color = kind === 'tasted' ? theme.ink : theme.liquid;
  const dot =
    kind === 'tasted'
      ? { type: 'point', filled: true, color, opacity: 1, size: 55 }
      : {
          type: 'point',
          filled: true,
          fill: theme.paper,
          stroke: color,
          strokeWidth: 2,
          opacity: 1,
          size: 60,
        };
  const tooltip = [
    { field: 'mix', title: 'mix' },
    { field: 'mean', title: 'score', format: '.1f' },
    { field: 'low', title: 'from', format: '.1f' },
    { field: 'high', title: 'to', format: '.1f' },
  ];
  return [
    {
      transform: [{ filter: 'isValid(datum.low) && isValid(datum.high)' }],
      mark: { type: 'rule', color, strokeWidth: 1.5, clip: true },
      encoding: { y, x: { field: 'low' }, x2: { field: 'high' } },
    },
    { mark: dot, encoding: { y, x: { field: 'mean' }, tooltip } },
  ];
}
