import { type AimedAttribute, matchingBand } from './aims.ts';
import { columnsFor } from './columns.ts';
import { emptyChart } from './empty-chart.ts';
import { wrapped } from './names.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

/** A predicted score along the way from little to much of one component. */
export interface CurvePoint {
  attribute: string;
  /** Parts of a hundred of the component. */
  parts: number;
  mean: number;
  low: number;
  high: number;
}

export interface CurvesData {
  title: string;
  component: string;
  attributes: readonly AimedAttribute[];
  points: readonly CurvePoint[];
}

/** How each score moves as more of one component is taken: a small picture an attribute, with the 95 % band. */
export function curvesChart(data: CurvesData, { width, theme }: ChartFrame): Spec {
  if (data.points.length === 0) return emptyChart(data.title, { width, theme });
  const columns = columnsFor(data.attributes.length, width, 150);
  const across = Math.floor((width - 48 * columns - 10) / columns);
  const shares = data.points.map(({ parts }) => parts);
  const x = {
    field: 'parts',
    type: 'quantitative',
    scale: { domain: [Math.min(...shares), Math.max(...shares)], nice: false, zero: false },
    axis: { title: null, grid: false, tickCount: 3 },
  };
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    columns,
    spacing: { row: 44, column: 12 },
    concat: data.attributes.map((attribute) => ({
      width: across,
      height: 110,
      title: {
        text: wrapped(attribute.name, Math.floor(across / 7)),
        fontWeight: 'normal',
        fontSize: 13,
        limit: across,
      },
      data: {
        values: data.points
          .filter((point) => point.attribute === attribute.id)
          .map((point) => ({ ...point })),
      },
      layer: [
        ...targetLayers(attribute, theme),
        {
          mark: { type: 'area', color: theme.liquid, opacity: 0.22, clip: true },
          encoding: { x, y: yOf(attribute, 'low'), y2: { field: 'high' } },
        },
        {
          mark: { type: 'line', color: theme.liquid, strokeWidth: 2.2, clip: true },
          encoding: { x, y: yOf(attribute, 'mean') },
        },
      ],
    })),
  } as Spec;
}

function yOf({ scale }: AimedAttribute, field: string) {
  return {
    field,
    type: 'quantitative',
    scale: { domain: [...scale], nice: false, zero: false },
    axis: { title: null, values: [scale[0], (scale[0] + scale[1]) / 2, scale[1]], gridOpacity: 0.6 },
  };
}

function targetLayers(attribute: AimedAttribute, theme: ChartFrame['theme']) {
  const band = matchingBand(attribute);
  if (band === null) return [];
  const { scale: own } = yOf(attribute, 'mean');
  return [
    {
      data: { values: [{}] },
      mark: { type: 'rect', color: theme.aim, fillOpacity: 0.1, stroke: theme.aim, strokeDash: [3, 3] },
      encoding: { y: { datum: band[0], type: 'quantitative', scale: own }, y2: { datum: band[1] } },
    },
  ];
}
