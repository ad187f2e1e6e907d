import type { BesideColumns, Cups } from './cups.ts';
import { joinColumns } from './mix-columns.ts';
import { estimate } from './mixed/estimate.ts';
import type { DegreesMethod, MixedFit } from './mixed/types.ts';
import type { Serving } from './observations.ts';
import { ownColumns } from './own-columns.ts';
import { precedingCups } from './preceding-cups.ts';
import { additiveFit, profileTable } from './profile-table.ts';

/** One effect of the order of serving, or of age, as it was taken out. */
export interface OrderEffect {
  effect: string;
  estimate: number;
  standardError: number | null;
  denDf: number | null;
  p: number | null;
}

/**
 * The cups with columns for the order they were served in: one for each place in the sitting after the first, and
 * the level of the preceding cup's mix (its mean in the additive fit of assessors and mixes, about the average of
 * all preceding cups; zero for a first cup). Every column is centred, so that means stay those at the places as
 * served. Columns that the mixes already tell are left out, last first.
 *
 * @returns the same cups where some place is not known, with the reason
 */
export function withServingOrder(
  servings: readonly Serving[],
  cups: Cups,
): { cups: Cups; reason: string | null } {
  const places = Array.from(cups.rows, (row) => servings[row]!.position);
  if (places.some((place) => place === null))
    return { cups, reason: 'not adjusted for the order of serving: the place of some cups is not known' };
  const later = [...new Set(places as number[])].sort((a, b) => a - b).slice(1);
  const columns = [
    ...later.map((place) => ({
      name: `cup ${place} of a sitting, against the first`,
      values: Float64Array.from(places, (own) => Number(own === place)),
    })),
    { name: 'each point of the cup before', values: carriedOver(servings, cups) },
  ].map(({ name, values }) => ({ name, values: centred(values) }));
  const before = columnsOf(cups.beside);
  const kept = ownColumns(cups, [...before, ...columns.map(({ values }) => values)])
    .filter((at) => at >= before.length)
    .map((at) => columns[at - before.length]!);
  if (kept.length === 0)
    return { cups, reason: 'not adjusted for the order of serving: it cannot be told from the mixes' };
  const beside = besideOf(kept, cups.y.length);
  const names = [...(cups.beside?.names ?? []), ...beside.names];
  const values = cups.beside ? joinColumns(cups.beside.values, beside, cups.y.length) : beside.values;
  return { cups: { ...cups, beside: { names, values } }, reason: null };
}

function besideOf(columns: readonly { name: string; values: Float64Array }[], n: number): BesideColumns {
  const width = columns.length;
  const values = new Float64Array(n * width);
  columns.forEach((column, c) => {
    column.values.forEach((value, i) => {
      values[i * width + c] = value;
    });
  });
  return { names: columns.map(({ name }) => name), values };
}

/** What stands beside the mixes as the model has it; these are the last coefficients. */
export function besideEffects(cups: Cups, fit: MixedFit, df: DegreesMethod): OrderEffect[] {
  const names = cups.beside?.names ?? [];
  return names.map((effect, c) => {
    const row = new Float64Array(fit.p);
    row[fit.p - names.length + c] = 1;
    const { estimate: value, standardError, denDf, p } = estimate(fit, row, df);
    return { effect, estimate: value, standardError, denDf, p };
  });
}

/** Scores with the order of serving, and age, taken out, by the coefficients of a fit of these cups. */
export function withoutOrder({ beside, ...cups }: Cups, fit: MixedFit): Cups {
  if (!beside) return cups;
  const width = beside.names.length;
  const y = cups.y.map((score, i) => {
    let taken = 0;
    for (let c = 0; c < width; c++) taken += beside.values[i * width + c]! * fit.beta[fit.p - width + c]!;
    return score - taken;
  });
  return { ...cups, y };
}

function carriedOver(servings: readonly Serving[], cups: Cups): Float64Array {
  const table = profileTable(cups);
  const { mix, hasMix } = additiveFit(table, [...cups.assessors.keys()]);
  const before = precedingCups(servings);
  const place = new Map(cups.mixes.map((name, m) => [name, m]));
  const levels = Array.from(cups.rows, (row) => {
    const m = place.get(before[row]?.mix ?? '');
    return m === undefined || !hasMix[m] ? null : mix[m]!;
  });
  const known = levels.filter((level) => level !== null);
  const middle = known.reduce((sum, level) => sum + level, 0) / Math.max(1, known.length);
  return Float64Array.from(levels, (level) => (level === null ? 0 : level - middle));
}

function centred(values: Float64Array): Float64Array {
  const middle = values.reduce((sum, v) => sum + v, 0) / Math.max(1, values.length);
  return values.map((v) => v - middle);
}

/** Column by column. */
function columnsOf(beside: BesideColumns | undefined): Float64Array[] {
  const { names, values } = beside ?? { names: [], values: new Float64Array(0) };
  return names.map((_, c) =>
    Float64Array.from({ length: values.length / names.length }, (_, i) => values[i * names.length + c]!),
  );
}
