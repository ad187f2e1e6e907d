import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

/** What stands in place of a chart that has nothing to show. */
export function emptyChart(title: string, { width, theme }: ChartFrame): Spec {
  return {
    $schema: SCHEMA,
    title,
    config: baseConfig(theme),
    width: Math.min(width - 24, 320),
    height: 28,
    data: { values: [{ says: 'Nothing to show yet' }] },
    mark: { type: 'text', align: 'left', x: 0, color: theme.soft, fontSize: 12 },
    encoding: { text: { field: 'says', type: 'nominal' } },
  } as Spec;
}
