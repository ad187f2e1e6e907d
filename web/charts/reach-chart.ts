import { emptyChart } from './empty-chart.ts';
import { nameAxis } from './names.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

export interface ReachData {
  title: string;
  /** What the brief allows of each component, in parts of a hundred. */
  components: readonly { id: string; low: number; high: number }[];
  mixes: readonly { mix: string; parts: Readonly<Record<string, number>>; planned: boolean }[];
}

/** How far the mixes reach into what is allowed: a line a component, a stroke a mix. */
export function reachChart(data: ReachData, { width, theme }: ChartFrame): Spec {
  if (data.components.length === 0) return emptyChart(data.title, { width, theme });
  const y = {
    field: 'id',
    type: 'nominal',
    scale: { domain: data.components.map(({ id }) => id) },
    axis: nameAxis(theme.ink, 84),
  };
  const x = (field: string) => ({
    field,
    type: 'quantitative',
    scale: { zero: true, nice: true },
    axis: { title: 'parts of 100', grid: false },
  });
  const strokes = data.mixes.flatMap(({ mix, parts, planned }) =>
    data.components.map(({ id }) => ({ id, mix, planned, parts: parts[id] ?? 0 })),
  );
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    width: Math.min(width - 110, 560),
    height: 34 * data.components.length,
    layer: [
      {
        data: { values: data.components.map((component) => ({ ...component })) },
        mark: { type: 'rule', strokeWidth: 12, color: theme.rule, strokeCap: 'round' },
        encoding: { y, x: x('low'), x2: { field: 'high' } },
      },
      {
        data: { values: strokes },
        mark: { type: 'tick', thickness: 2.5, height: 20, orient: 'vertical' },
        encoding: {
          y,
          x: x('parts'),
          color: { condition: { test: 'datum.planned', value: theme.liquid }, value: theme.ink },
          tooltip: [{ field: 'mix' }, { field: 'parts', title: 'parts of 100', format: '.1f' }],
        },
      },
    ],
  } as Spec;
}
