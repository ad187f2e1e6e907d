import { emptyChart } from './empty-chart.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

export interface KnowledgeData {
  title: string;
  /** The smallest difference noticed, in points of a hundred of the scale, by number of mixes. */
  points: readonly { mixes: number; notices: number }[];
  /** Sizes to be named on the curve. */
  named: readonly { mixes: number; name: string }[];
  /** The plan itself, judged as the curve is. */
  own?: { mixes: number; notices: number } | null;
}

/** Knowledge against the number of mixes: the curve falls where more mixes pay and lies flat where they stop paying. */
export function knowledgeChart(data: KnowledgeData, { width, theme }: ChartFrame): Spec {
  if (data.points.length === 0) return emptyChart(data.title, { width, theme });
  const x = {
    field: 'mixes',
    type: 'quantitative',
    scale: { zero: false, nice: false },
    axis: { title: 'mixes', grid: false, tickMinStep: 1, tickCount: 8, format: 'd' },
  };
  const y = {
    field: 'notices',
    type: 'quantitative',
    scale: { zero: true, nice: true },
    axis: { title: 'smallest difference noticed', tickCount: 4, domain: false },
  };
  const across = Math.min(width - 70, 520);
  const places = namedPlaces(data, across);
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    width: across,
    height: 190,
    layer: [
      {
        data: { values: data.points.map((point) => ({ ...point })) },
        mark: { type: 'line', color: theme.liquid, strokeWidth: 2, interpolate: 'monotone' },
        encoding: {
          x,
          y,
          tooltip: [{ field: 'mixes' }, { field: 'notices', title: 'notices, points of 100', format: '.1f' }],
        },
      },
      {
        data: { values: places },
        mark: { type: 'point', filled: true, color: theme.liquid, size: 70, opacity: 1 },
        encoding: { x, y },
      },
      {
        data: { values: places },
        mark: {
          ...{ type: 'text', color: theme.ink, align: 'left', dx: 2, fontSize: 12, limit: 120 },
          dy: { expr: 'datum.below ? 16 : -14' },
        },
        encoding: { x, y, text: { field: 'name' } },
      },
      ...(data.own
        ? [
            {
              data: { values: [{ ...data.own }] },
              mark: { type: 'point', filled: false, color: theme.ink, size: 140, strokeWidth: 1.5 },
              encoding: { x, y },
            },
          ]
        : []),
    ],
  } as Spec;
}

/** Pixels of one sign of a name. */
const SIGN = 7;

/** Sizes with their places on the curve; a name that would run into the one before it goes below the curve. */
function namedPlaces({ named, points }: KnowledgeData, across: number) {
  const last = points.at(-1)!.mixes - points[0]!.mixes;
  const pixels = (mixes: number) => (across * (mixes - points[0]!.mixes)) / Math.max(1, last);
  let above = Number.NEGATIVE_INFINITY;
  return named.flatMap(({ mixes, name }) => {
    const point = points.find((one) => one.mixes === mixes);
    if (point === undefined) return [];
    const below = pixels(mixes) < above;
    if (!below) above = pixels(mixes) + SIGN * name.length;
    return [{ ...point, name, below }];
  });
}
