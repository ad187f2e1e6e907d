import { type AimedAttribute, matchingBand } from './aims.ts';
import { columnsFor } from './columns.ts';
import { emptyChart } from './empty-chart.ts';
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

/** Where an attribute's column lies, in pixels. */
interface Column {
  attribute: AimedAttribute;
  title: readonly string[];
  left: number;
  right: number;
  /** Of the first mix's row. */
  top: number;
  bottom: number;
  /** Begins a line of columns, so that the mixes are named before it. */
  first: boolean;
}

const LABELS = 84;
const GAP = 14;
const ROW = 22;
const TITLE_LINE = 15;
const SCALE = 18;
const LINE_GAP = 16;

/**
 * Each mix against the target: a column an attribute, a row a mix, the target with its tolerance running through.
 * Columns wrap where the place is narrow. All of it is one picture whose places are reckoned here: a picture an
 * attribute takes the browser many times as long.
 */
export function profileChart(data: ProfileData, { width, theme }: ChartFrame): Spec {
  if (data.points.length === 0) return emptyChart(data.title, { width, theme });
  const columns = columnsOf(data, width);
  const across = Math.max(...columns.map(({ right }) => right));
  const down = Math.max(...columns.map(({ bottom }) => bottom + SCALE));
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    width: across,
    height: down,
    layer: [
      ...aimLayers(columns, theme),
      ...scaleLayers(columns, theme),
      ...pointLayers(columns, data, theme),
      ...nameLayers(columns, data, theme),
    ],
    encoding: { x: place('x'), y: place('y') },
  } as Spec;
}

function place(field: string) {
  return { field, type: 'quantitative', scale: null, axis: null };
}

function columnsOf({ attributes, mixes }: ProfileData, width: number): Column[] {
  const labels = width < 480 ? 72 : LABELS;
  const aside = columnsFor(attributes.length, width - labels, width < 480 ? 110 : 128);
  const across = Math.floor((width - labels - 16 - GAP * (aside - 1)) / aside);
  const columns: Column[] = [];
  let top = 0;
  for (let start = 0; start < attributes.length; start += aside) {
    const line = attributes.slice(start, start + aside);
    const titles = line.map((attribute) => wrapped(headingOf(attribute), Math.floor(across / 7)));
    top += TITLE_LINE * Math.max(...titles.map((title) => title.length)) + 8;
    line.forEach((attribute, i) => {
      const left = labels + i * (across + GAP);
      const bottom = top + ROW * mixes.length;
      columns.push({ attribute, title: titles[i]!, left, right: left + across, top, bottom, first: i === 0 });
    });
    top += ROW * mixes.length + SCALE + LINE_GAP;
  }
  return columns;
}

/** Where a score lies in its column; whiskers that leave the scale end at its edge. */
function reach({ attribute: { scale }, left, right }: Column, score: number): number {
  const share = (score - scale[0]) / (scale[1] - scale[0]);
  return left + Math.min(1, Math.max(0, share)) * (right - left);
}

/** The matching band as an outline with a thin tint, the target itself as a line or a block. */
function aimLayers(columns: readonly Column[], theme: ChartFrame['theme']) {
  const aimed = columns.flatMap((column) => {
    const band = matchingBand(column.attribute);
    const { aim } = column.attribute;
    if (band === null || aim?.kind !== 'band') return [];
    const ends = { y: column.top, y2: column.bottom };
    const span = (low: number, high: number) => ({
      x: reach(column, low),
      x2: reach(column, high),
      ...ends,
    });
    return [{ band: span(...band), target: span(aim.from, aim.to), isLine: aim.from === aim.to }];
  });
  const corners = { x2: { field: 'x2' }, y2: { field: 'y2' } };
  return [
    {
      data: { values: aimed.map(({ band }) => band) },
      mark: {
        type: 'rect',
        color: theme.aim,
        fillOpacity: 0.1,
        stroke: theme.aim,
        strokeDash: [3, 3],
        strokeWidth: 1,
      },
      encoding: corners,
    },
    {
      data: { values: aimed.flatMap(({ target, isLine }) => (isLine ? [] : [target])) },
      mark: { type: 'rect', color: theme.aim, fillOpacity: 0.16 },
      encoding: corners,
    },
    {
      data: { values: aimed.flatMap(({ target, isLine }) => (isLine ? [target] : [])) },
      mark: { type: 'rule', color: theme.aim, strokeWidth: 2 },
      encoding: corners,
    },
  ];
}

/** A line under each column, and what its ends mean. */
function scaleLayers(columns: readonly Column[], theme: ChartFrame['theme']) {
  const rules = columns.map(({ left, right, bottom }) => ({ x: left, x2: right, y: bottom, y2: bottom }));
  const ends = (end: 0 | 1) =>
    columns.map(({ attribute, left, right, bottom }) => ({
      x: end === 0 ? left : right,
      y: bottom + 11,
      label: String(attribute.scale[end]),
    }));
  return [
    {
      data: { values: rules },
      mark: { type: 'rule', color: theme.edge },
      encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
    },
    ...([0, 1] as const).map((end) => ({
      data: { values: ends(end) },
      mark: { type: 'text', color: theme.soft, align: end === 0 ? 'left' : 'right', fontSize: 12 },
      encoding: { text: { field: 'label' } },
    })),
  ];
}

function pointLayers(columns: readonly Column[], data: ProfileData, theme: ChartFrame['theme']) {
  const rows = new Map(data.mixes.map((mix, row) => [mix, row]));
  const placed = columns.flatMap((column) =>
    data.points.flatMap((point) => {
      const row = rows.get(point.mix);
      if (row === undefined || point.attribute !== column.attribute.id) return [];
      return [{ ...point, x: reach(column, point.mean), y: column.top + ROW * (row + 0.5), column }];
    }),
  );
  const whiskers = placed.flatMap(({ low, high, y, column }) =>
    low === null || high === null ? [] : [{ x: reach(column, low), x2: reach(column, high), y }],
  );
  const isTasted = data.kind === 'tasted';
  const color = isTasted ? theme.ink : theme.liquid;
  const dot = isTasted
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
      data: { values: whiskers },
      mark: { type: 'rule', color, strokeWidth: 1.5 },
      encoding: { x2: { field: 'x2' } },
    },
    { data: { values: placed.map(({ column: _, ...point }) => point) }, mark: dot, encoding: { tooltip } },
  ];
}

/** Attributes over their columns, mixes before the first column of each line. */
function nameLayers(columns: readonly Column[], { mixes }: ProfileData, theme: ChartFrame['theme']) {
  const titles = columns.flatMap(({ title, left, top }) =>
    title.map((label, i) => ({ x: left, y: top - 8 - TITLE_LINE * (title.length - i - 0.5), label })),
  );
  const names = columns
    .filter(({ first }) => first)
    .flatMap(({ left, top }) =>
      mixes.map((label, row) => ({ x: left - 8, y: top + ROW * (row + 0.5), label })),
    );
  const widest = Math.max(...columns.map(({ left, right }) => right - left));
  const labels = Math.min(LABELS, ...columns.map(({ left }) => left));
  const text = { text: { field: 'label' } };
  return [
    {
      data: { values: titles },
      mark: { type: 'text', align: 'left', color: theme.ink, fontSize: 13, limit: widest },
      encoding: text,
    },
    {
      data: { values: names },
      mark: { type: 'text', align: 'right', color: theme.ink, fontSize: 12, limit: labels - 8 },
      encoding: text,
    },
  ];
}

/** The question, with an arrow to the end that is aimed at where there is no band to hit. */
function headingOf({ name, aim }: ProfileData['attributes'][number]): string {
  if (aim?.kind !== 'toward') return name;
  return aim.end === 'most' ? `${name} →` : `← ${name}`;
}
