import { type AimedAttribute, SCORE_FORMAT } from './aims.ts';
import { columnsFor } from './columns.ts';
import { emptyChart } from './empty-chart.ts';
import { wrapped } from './names.ts';
import { NAME_MARK, namesBeside } from './names-beside.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

/** A mix as the model expects it and as it was tasted. */
export interface MissPoint {
  mix: string;
  attribute: string;
  expected: number;
  tasted: number;
  low: number | null;
  high: number | null;
}

export interface MissesData {
  title: string;
  attributes: readonly AimedAttribute[];
  points: readonly MissPoint[];
}

/** What was tasted against what the models say: on the slanted line they agree. */
export function missesChart(data: MissesData, { width, theme }: ChartFrame): Spec {
  if (data.points.length === 0) return emptyChart(data.title, { width, theme });
  const columns = columnsFor(data.attributes.length, width, 170);
  const across = Math.min(240, Math.floor((width - 74 * columns - 10) / columns));
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    columns,
    spacing: { row: 48, column: 14 },
    concat: data.attributes.map((attribute) => ({
      width: across,
      height: across,
      title: {
        text: wrapped(attribute.name, Math.floor(across / 7)),
        fontWeight: 'normal',
        fontSize: 13,
        limit: across,
      },
      layer: [agreement(attribute, theme), ...mixLayers(data, attribute, theme, across)],
    })),
  } as Spec;
}

function axes({ scale: [low, high] }: AimedAttribute) {
  const scale = { domain: [low, high], nice: false, zero: false };
  const values = [low, (low + high) / 2, high];
  return {
    x: { type: 'quantitative', scale, axis: { title: 'expected', values, grid: false } },
    y: { type: 'quantitative', scale, axis: { title: 'tasted', values, grid: false } },
  };
}

function agreement(attribute: AimedAttribute, theme: ChartFrame['theme']) {
  const { x, y } = axes(attribute);
  const [low, high] = attribute.scale;
  return {
    data: { values: [{ at: low }, { at: high }] },
    mark: { type: 'line', color: theme.edge, strokeWidth: 1.2 },
    encoding: { x: { field: 'at', ...x }, y: { field: 'at', ...y } },
  };
}

function mixLayers(data: MissesData, attribute: AimedAttribute, theme: ChartFrame['theme'], across: number) {
  const { x, y } = axes(attribute);
  const values = data.points
    .filter((point) => point.attribute === attribute.id)
    .map((point) => ({ ...point }));
  const at = { x: { field: 'expected', ...x }, y: { field: 'tasted', ...y } };
  return [
    {
      data: { values },
      transform: [{ filter: 'isValid(datum.low) && isValid(datum.high)' }],
      mark: { type: 'rule', color: theme.ink, strokeWidth: 1, opacity: 0.6, clip: true },
      encoding: { x: at.x, y: { field: 'low', ...y }, y2: { field: 'high' } },
    },
    {
      data: { values },
      mark: { type: 'point', filled: true, color: theme.ink, opacity: 1, size: 36 },
      encoding: {
        ...at,
        tooltip: [
          { field: 'mix' },
          { field: 'expected', format: SCORE_FORMAT },
          { field: 'tasted', format: SCORE_FORMAT },
        ],
      },
    },
    {
      data: { values: namesOf(values, attribute, across) },
      mark: { ...NAME_MARK, fontSize: 10, color: theme.soft },
      encoding: { ...at, text: { field: 'name' } },
    },
  ];
}

/** Those that miss most are named first: they are what one looks for. */
function namesOf(points: readonly MissPoint[], { scale: [low, high] }: AimedAttribute, across: number) {
  const pixels = (value: number) => (across * (value - low)) / (high - low);
  const marks = [...points]
    .sort((a, b) => Math.abs(b.tasted - b.expected) - Math.abs(a.tasted - a.expected))
    .map((point) => ({
      ...{ name: point.mix, expected: point.expected, tasted: point.tasted },
      px: pixels(point.expected),
      py: across - pixels(point.tasted),
    }));
  return namesBeside(marks, { width: across, height: across });
}
