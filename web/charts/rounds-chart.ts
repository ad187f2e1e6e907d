import { emptyChart } from './empty-chart.ts';
import { fitted } from './names.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

/** How far a mix lay from the target as tasted, in points of a hundred, with its 95 % interval. */
export interface RoundPoint {
  mix: string;
  round: number;
  distance: number;
  low: number;
  high: number;
  /** The nearest of its round. */
  nearest: boolean;
}

export interface RoundsData {
  title: string;
  points: readonly RoundPoint[];
}

const MOST_NAMED = 8;

/** Distance to the target by round: every mix, and the nearest of each round joined to the next. */
export function roundsChart(data: RoundsData, { width, theme }: ChartFrame): Spec {
  if (data.points.length === 0) return emptyChart(data.title, { width, theme });
  const values = data.points.map((point) => ({ ...point }));
  const rounds = [...new Set(values.map(({ round }) => round))].sort((a, b) => a - b);
  const across = Math.min(width - 70, Math.max(160, 130 * rounds.length));
  const step = across / rounds.length;
  const room = Math.max(30, step / 2 - 12);
  const x = {
    field: 'round',
    type: 'ordinal',
    scale: { domain: rounds },
    axis: { title: 'round', labelAngle: 0, domain: false, ticks: false },
  };
  const y = (field: string) => ({
    field,
    type: 'quantitative',
    scale: { domain: [0, Math.max(1, ...data.points.map(({ high }) => high))], nice: true },
    axis: { title: 'points of 100 from the target', tickCount: 5 },
  });
  const nearest = [{ filter: 'datum.nearest' }];
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    width: across,
    height: 220,
    data: { values },
    layer: [
      {
        mark: {
          type: 'tick',
          color: theme.edge,
          thickness: 1.5,
          width: Math.min(26, step * 0.7),
          orient: 'horizontal',
        },
        encoding: { x, y: y('distance'), tooltip: [{ field: 'mix' }, { field: 'distance', format: '.1f' }] },
      },
      {
        transform: nearest,
        mark: { type: 'line', color: theme.ink, strokeWidth: 1, strokeDash: [2, 3] },
        encoding: { x, y: y('distance') },
      },
      {
        transform: nearest,
        mark: { type: 'rule', color: theme.ink, strokeWidth: 1.5 },
        encoding: { x, y: y('low'), y2: { field: 'high' } },
      },
      {
        transform: nearest,
        mark: { type: 'point', filled: true, color: theme.ink, opacity: 1, size: 70 },
        encoding: { x, y: y('distance') },
      },
      {
        data: {
          values: namedOf(data.points, rounds.length).map((one) => ({ ...one, mix: fitted(one.mix, room) })),
        },
        mark: {
          type: 'text',
          dx: 10,
          dy: -9,
          align: 'left',
          fontSize: 12,
          limit: room,
        },
        encoding: { x, y: y('distance'), text: { field: 'mix' } },
      },
    ],
  } as Spec;
}

/** The nearest of each round; of many rounds the nearest of all, for which there is room. */
function namedOf(points: readonly RoundPoint[], rounds: number): RoundPoint[] {
  const nearest = points.filter((point) => point.nearest).map((point) => ({ ...point }));
  if (rounds <= MOST_NAMED) return nearest;
  return nearest.sort((a, b) => a.distance - b.distance).slice(0, 1);
}
