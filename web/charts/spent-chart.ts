import { emptyChart } from './empty-chart.ts';
import { baseConfig, type ChartFrame, SCHEMA, type Spec } from './theme.ts';

/** What one round took; money is null where a price is missing. */
export interface RoundSpent {
  round: number;
  /** Grams of all components as weighed. */
  grams: number;
  money: number | null;
  /** Cups that were drawn. */
  cups: number;
}

export interface SpentData {
  title: string;
  rounds: readonly RoundSpent[];
  /** What money is in, where the brief names it. */
  currency?: string | undefined;
}

const KINDS = [
  ['grams', 'g of material'],
  ['money', 'money'],
  ['cups', 'cups'],
] as const;

const MOST_LABELLED = 8;

/** Grams, money and cups by round: a column for each round, each kind on a scale of its own. */
export function spentChart({ title, rounds, currency }: SpentData, { width, theme }: ChartFrame): Spec {
  if (rounds.length === 0) return emptyChart(title, { width, theme });
  const kinds = KINDS.filter(([kind]) => rounds.every((round) => round[kind] !== null));
  const perRow = Math.max(1, Math.min(kinds.length, Math.floor(width / 200)));
  const values = kinds.flatMap(([kind, says]) => {
    const most = Math.max(...rounds.map((round) => round[kind]!));
    return rounds.map((round) => ({
      kind: kind === 'money' && currency !== undefined ? `${says}, ${currency}` : says,
      round: round.round,
      value: round[kind]!,
      // Room for the labels over the columns.
      top: 1.15 * Math.max(most, 1e-9),
      label: rounds.length <= MOST_LABELLED || round[kind] === most ? labelOf(round[kind]!) : '',
    }));
  });
  const y = {
    field: 'value',
    type: 'quantitative',
    axis: null,
    scale: { zero: true, nice: false },
  };
  const x = {
    field: 'round',
    type: 'ordinal',
    axis: { title: 'round', labelAngle: 0, domain: true, ticks: false },
  };
  return {
    $schema: SCHEMA,
    title,
    config: baseConfig(theme),
    data: { values },
    facet: {
      field: 'kind',
      type: 'nominal',
      sort: kinds.map(([, says]) => says),
      header: { title: null, labelAnchor: 'start' },
    },
    columns: perRow,
    spacing: 28,
    spec: {
      width: Math.min(240, Math.floor((width - 28 * perRow) / perRow) - 10),
      height: 110,
      layer: [
        {
          mark: { type: 'bar', color: theme.ink, width: { band: 0.25 } },
          encoding: { x, y },
        },
        { mark: { type: 'point', opacity: 0 }, encoding: { x, y: { ...y, field: 'top' } } },
        {
          mark: { type: 'text', dy: -8, fontSize: 12 },
          encoding: { x, y, text: { field: 'label' } },
        },
      ],
    },
    resolve: { scale: { y: 'independent' } },
  } as Spec;
}

function labelOf(value: number): string {
  return Number.isInteger(value) ? String(value) : value.toFixed(value < 10 ? 2 : 1);
}
