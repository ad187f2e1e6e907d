import { columnsFor } from './columns.ts';
import { labelsWithin, wrapped } from './names.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

/** Cells narrower than this have small headings. */
const SMALL = 60;
const GAP = 6;

/** What one component does to one attribute over the width of the region, in percent of the attribute's scale. */
export interface EffectCell {
  component: string;
  attribute: string;
  change: number;
  low: number;
  high: number;
  /** The panel can tell: the interval holds no zero. */
  tells: boolean;
}

export interface EffectsData {
  title: string;
  components: readonly { id: string; name: string }[];
  attributes: readonly { id: string; name: string }[];
  cells: readonly EffectCell[];
}

/** Cells are not made narrower than this: the columns go on below. */
const LEAST = 34;

/**
 * Strength of effects as tilted strokes: the slope is the change when more of a component is taken, the whisker at
 * its end the 95 % interval. An empty place: the panel cannot tell. Columns wrap where the place is narrow.
 */
export function effectsChart(data: EffectsData, { width, theme }: ChartFrame): Spec {
  const labels = width < 480 ? 84 : 150;
  const room = width - labels - 24;
  const aside = columnsFor(data.attributes.length, room, LEAST + GAP);
  const own = Math.min(92, Math.floor(room / aside) - GAP);
  // Headings of small cells reach half a cell over the last column.
  const cell = Math.max(30, own >= SMALL ? own : Math.floor(room / (aside + 0.5)) - GAP);
  const most = Math.max(
    1,
    ...data.cells.filter((c) => c.tells).flatMap((c) => [spread(c.low, c), spread(c.high, c)]),
  );
  const lines = Array.from({ length: Math.max(1, Math.ceil(data.attributes.length / aside)) }, (_, line) =>
    data.attributes.slice(line * aside, (line + 1) * aside),
  );
  const look = { cell, labels, most, theme };
  const parts = lines.map((attributes) => gridOf({ ...data, attributes }, look));
  return {
    $schema: SCHEMA,
    title: data.title,
    config: { ...baseConfig(theme), facet: { spacing: GAP } },
    ...(parts.length === 1 ? parts[0] : { vconcat: parts, spacing: 18 }),
  } as Spec;
}

interface Look {
  cell: number;
  labels: number;
  /** The steepest stroke, whiskers counted: all lines of columns share it. */
  most: number;
  theme: ChartFrame['theme'];
}

/** One line of columns. */
function gridOf(data: EffectsData, { cell, labels, most, theme }: Look) {
  const names = new Map(data.components.map(({ id, name }) => [id, name]));
  const heads = apart(data, cell);
  const shown = data.cells.filter(({ attribute }) => heads.has(attribute));
  return {
    data: {
      values: shown.map((c) => strokeOf(c, names.get(c.component) ?? c.component, heads.get(c.attribute)!)),
    },
    facet: {
      row: {
        field: 'component',
        sort: data.components.map(({ id }) => id),
        header: {
          ...{ title: null, labelAngle: 0, labelAlign: 'left', labelPadding: 8 },
          ...labelsWithin(labels),
        },
      },
      column: {
        field: 'column',
        sort: data.attributes.map(({ id }) => heads.get(id)!),
        header: {
          title: null,
          labelLimit: cell < SMALL ? 2 * cell : cell + 4,
          labelExpr: "split(datum.label, '\\n')",
          labelLineHeight: 14,
          labelFontSize: cell < SMALL ? 10 : 12,
        },
      },
    },
    spec: {
      width: cell,
      height: Math.min(cell, 54),
      view: { stroke: theme.rule },
      layer: strokeLayers(theme),
      encoding: {
        x: { type: 'quantitative', scale: { domain: [-1.35, 1.35] }, axis: null },
        y: { type: 'quantitative', scale: { domain: [-most, most] }, axis: null },
      },
    },
  };
}

/** The headings by attribute, each its own: two that look alike would become one column. */
function apart(data: EffectsData, cell: number): Map<string, string> {
  const all = headingsOf(data, cell);
  const unseen = (k: number) => '\u200b'.repeat(all.slice(0, k).filter((one) => one === all[k]).length);
  return new Map(data.attributes.map(({ id }, k) => [id, `${all[k]}${unseen(k)}`]));
}

/** Headings of the columns; where words are longer than small cells, every other one stands above its neighbours. */
function headingsOf({ attributes }: EffectsData, cell: number): string[] {
  const fits = Math.max(6, Math.floor(cell / (cell < SMALL ? 5.4 : 6.6)));
  const tooLong = attributes.some(({ name }) => name.split(' ').some((word) => word.length > fits));
  if (cell >= SMALL || !tooLong) return attributes.map(({ name }) => wrapped(name, fits).join('\n'));
  const lines = attributes.map(({ name }) => wrapped(name, 2 * fits - 2, 2));
  const low = Math.max(...lines.filter((_, k) => k % 2 === 1).map((own) => own.length), 1);
  return lines.map((own, k) => [...own, ...(k % 2 === 0 ? Array<string>(low).fill(' ') : [])].join('\n'));
}

/** Strokes turn about their middle, so the end lies at half the change, and its whisker about it. */
function spread(end: number, { change }: EffectCell): number {
  return Math.abs(end - change / 2);
}

function strokeOf(cell: EffectCell, name: string, column: string) {
  const { change, low, high } = cell;
  return {
    ...cell,
    name,
    column,
    left: -1,
    right: 1,
    from: -change / 2,
    to: change / 2,
    bottom: low - change / 2,
    top: high - change / 2,
  };
}

function strokeLayers(theme: ChartFrame['theme']) {
  const tells = [{ filter: 'datum.tells' }];
  const tooltip = [
    { field: 'name', title: 'more of' },
    { field: 'change', title: 'changes by (% of scale)', format: '+.1f' },
    { field: 'low', title: 'from', format: '+.1f' },
    { field: 'high', title: 'to', format: '+.1f' },
  ];
  return [
    {
      transform: tells,
      mark: { type: 'rule', color: theme.rule },
      encoding: { y: { datum: 0 } },
    },
    {
      transform: tells,
      mark: { type: 'rule', color: theme.ink, strokeWidth: 3, strokeCap: 'round' },
      encoding: { x: { field: 'left' }, x2: { field: 'right' }, y: { field: 'from' }, y2: { field: 'to' } },
    },
    {
      transform: tells,
      mark: { type: 'rule', color: theme.ink, strokeWidth: 1.25 },
      encoding: { x: { field: 'right' }, y: { field: 'bottom' }, y2: { field: 'top' } },
    },
    {
      mark: { type: 'point', opacity: 0, filled: true, size: 900 },
      encoding: { x: { datum: 0 }, y: { datum: 0 }, tooltip },
    },
  ];
}
