import { type AimedAttribute, matchingBand, SCORE_FORMAT } from './aims.ts';
import { columnsFor } from './columns.ts';
import { emptyChart } from './empty-chart.ts';
import { fitted, wrapped } from './names.ts';
import { type Area, areas, type Line, rules, type Text, texts } from './placed-marks.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

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
 * Columns wrap where the place is narrow. All of it is one picture whose places are reckoned here, in one layer a kind of
 * mark: a picture an attribute takes the browser many times as long, and each layer takes its time too.
 */
export function profileChart(data: ProfileData, { width, theme }: ChartFrame): Spec {
  if (data.points.length === 0) return emptyChart(data.title, { width, theme });
  const columns = columnsOf(data, width);
  const across = Math.max(...columns.map(({ right }) => right));
  const down = Math.max(...columns.map(({ bottom }) => bottom + SCALE));
  const aims = aimsOf(columns, theme);
  const placed = placedPoints(columns, data);
  return {
    $schema: SCHEMA,
    title: data.title,
    config: baseConfig(theme),
    width: across,
    height: down,
    layer: [
      areas(aims.filled, theme.aim),
      rules([...aims.lines, ...scaleLines(columns, theme), ...whiskers(placed, data.kind, theme)]),
      dots(placed, data.kind, theme),
      texts([...scaleEnds(columns, theme), ...namesOf(columns, data, theme)]),
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
function aimsOf(columns: readonly Column[], { aim: color }: ChartFrame['theme']) {
  const filled: Area[] = [];
  const lines: Line[] = [];
  for (const column of columns) {
    const band = matchingBand(column.attribute);
    const { aim } = column.attribute;
    if (band === null || aim?.kind !== 'band') continue;
    const span = ([low, high]: readonly [number, number]) => ({
      ...{ x: reach(column, low), x2: reach(column, high) },
      ...{ y: column.top, y2: column.bottom },
    });
    filled.push({ ...span(band), fill: 0.1, edge: 1 });
    if (aim.from === aim.to) lines.push({ ...span([aim.from, aim.to]), color, thick: 2 });
    else filled.push({ ...span([aim.from, aim.to]), fill: 0.16, edge: 0 });
  }
  return { filled, lines };
}

/** A line under each column. */
function scaleLines(columns: readonly Column[], theme: ChartFrame['theme']): Line[] {
  return columns.map(({ left, right, bottom }) => ({
    ...{ x: left, x2: right, y: bottom, y2: bottom },
    ...{ color: theme.edge, thick: 1 },
  }));
}

/** What the ends of each column mean. */
function scaleEnds(columns: readonly Column[], theme: ChartFrame['theme']): Text[] {
  return columns.flatMap(({ attribute: { scale }, left, right, bottom }) => {
    const shared = { y: bottom + 11, color: theme.soft, size: 12, most: right - left };
    return [
      { ...shared, x: left, label: String(scale[0]), align: 'left' as const },
      { ...shared, x: right, label: String(scale[1]), align: 'right' as const },
    ];
  });
}

function placedPoints(columns: readonly Column[], { mixes, points }: ProfileData) {
  const rows = new Map(mixes.map((mix, row) => [mix, row]));
  return columns.flatMap((column) =>
    points.flatMap((point) => {
      const row = rows.get(point.mix);
      if (row === undefined || point.attribute !== column.attribute.id) return [];
      return [{ point, x: reach(column, point.mean), y: column.top + ROW * (row + 0.5), column }];
    }),
  );
}

type Placed = ReturnType<typeof placedPoints>;

function whiskers(placed: Placed, kind: ProfileData['kind'], theme: ChartFrame['theme']): Line[] {
  const color = kind === 'tasted' ? theme.ink : theme.liquid;
  return placed.flatMap(({ point: { low, high }, y, column }) =>
    low === null || high === null
      ? []
      : [{ x: reach(column, low), x2: reach(column, high), y, y2: y, color, thick: 1.5 }],
  );
}

function dots(placed: Placed, kind: ProfileData['kind'], theme: ChartFrame['theme']) {
  const shared = { type: 'point', filled: true, opacity: 1 };
  return {
    data: { values: placed.map(({ point, x, y }) => ({ ...point, x, y })) },
    mark:
      kind === 'tasted'
        ? { ...shared, color: theme.ink, size: 55 }
        : { ...shared, fill: theme.paper, stroke: theme.liquid, strokeWidth: 2, size: 60 },
    encoding: {
      tooltip: [
        { field: 'mix', title: 'mix' },
        { field: 'mean', title: 'score', format: SCORE_FORMAT },
        { field: 'low', title: 'from', format: SCORE_FORMAT },
        { field: 'high', title: 'to', format: SCORE_FORMAT },
      ],
    },
  };
}

/** Attributes over their columns, mixes before the first column of each line. */
function namesOf(columns: readonly Column[], { mixes }: ProfileData, { ink }: ChartFrame['theme']): Text[] {
  const labels = Math.min(LABELS, ...columns.map(({ left }) => left));
  return columns.flatMap(({ title, left, right, top, first }) => {
    const over = title.map((label, i): Text => {
      const y = top - 8 - TITLE_LINE * (title.length - i - 0.5);
      return { x: left, y, label, color: ink, size: 13, align: 'left', most: right - left };
    });
    const before = mixes.map((label, row): Text => {
      const y = top + ROW * (row + 0.5);
      return {
        x: left - 8,
        y,
        label: fitted(label, labels - 8),
        color: ink,
        size: 12,
        align: 'right',
        most: labels - 8,
      };
    });
    return first ? [...over, ...before] : over;
  });
}

/** The question, with an arrow to the end that is aimed at where there is no band to hit. */
function headingOf({ name, aim }: ProfileData['attributes'][number]): string {
  if (aim?.kind !== 'toward') return name;
  return aim.end === 'most' ? `${name} →` : `← ${name}`;
}
