import type { AimedAttribute } from './aims.ts';
import { matchingBand, SCORE_FORMAT } from './aims.ts';
import { emptyChart } from './empty-chart.ts';
import { nameAxis } from './names.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

export interface DifferencesData {
  title: string;
  attribute: AimedAttribute;
  means: readonly { mix: string; mean: number; low: number | null; high: number | null }[];
  /** Sets of mixes of which no two can be told apart. */
  groups: readonly (readonly string[])[];
}

const ROW = 24;

/** Mixes from low to high on one attribute; those that cannot be told apart are joined by brackets. */
export function differencesChart(data: DifferencesData, { width, theme }: ChartFrame): Spec {
  if (data.means.length === 0) return emptyChart(data.title, { width, theme });
  const sorted = [...data.means].sort((a, b) => b.mean - a.mean);
  const order = sorted.map(({ mix }) => mix);
  const sets = data.groups.map((group) => order.filter((mix) => group.includes(mix)));
  const right = Math.max(16, sets.length * 14);
  const y = { field: 'mix', type: 'nominal', scale: { domain: order } };
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    spacing: 10,
    hconcat: [
      {
        width: Math.max(120, Math.min(520, width - right - 120)),
        height: ROW * order.length,
        data: { values: sorted.map((row) => ({ ...row })) },
        layer: [
          ...band(data.attribute, theme),
          ...dots(data.attribute, theme, { ...y, axis: nameAxis(theme.ink) }),
        ],
      },
      {
        width: right,
        height: ROW * order.length,
        layer: bracketLayers(sets, theme),
        encoding: {
          y: { ...y, axis: null },
          x: {
            field: 'at',
            type: 'quantitative',
            axis: null,
            scale: { domain: [-0.5, Math.max(0.5, sets.length - 0.5)] },
          },
        },
      },
    ],
  } as Spec;
}

function band(attribute: AimedAttribute, theme: ChartFrame['theme']) {
  const match = matchingBand(attribute);
  if (match === null) return [];
  return [
    {
      data: { values: [{}] },
      mark: { type: 'rect', color: theme.aim, fillOpacity: 0.1, stroke: theme.aim, strokeDash: [3, 3] },
      encoding: { x: { datum: match[0] }, x2: { datum: match[1] } },
    },
  ];
}

function dots(attribute: AimedAttribute, theme: ChartFrame['theme'], y: object) {
  const x = {
    type: 'quantitative',
    scale: { domain: [...attribute.scale], nice: false, zero: false },
    axis: { title: null, grid: false, tickCount: 5 },
  };
  return [
    {
      transform: [{ filter: 'isValid(datum.low) && isValid(datum.high)' }],
      mark: { type: 'rule', color: theme.ink, strokeWidth: 1.5, clip: true },
      encoding: { y, x: { field: 'low', ...x }, x2: { field: 'high' } },
    },
    {
      mark: { type: 'point', filled: true, color: theme.ink, opacity: 1, size: 60 },
      encoding: {
        y,
        x: { field: 'mean', ...x },
        tooltip: [{ field: 'mix' }, { field: 'mean', format: SCORE_FORMAT }],
      },
    },
  ];
}

function bracketLayers(sets: readonly (readonly string[])[], theme: ChartFrame['theme']) {
  const spans = sets.map((set, at) => ({ at, mix: set[0], last: set.at(-1) }));
  const members = sets.flatMap((set, at) => set.map((mix) => ({ at, mix })));
  return [
    {
      data: { values: spans },
      mark: { type: 'rule', color: theme.edge, strokeWidth: 2 },
      encoding: { y2: { field: 'last' } },
    },
    {
      data: { values: members },
      mark: { type: 'point', filled: true, color: theme.edge, opacity: 1, size: 26 },
    },
  ];
}
