import type { Cups } from './cups.ts';
import { REFERENCE, type Serving } from './observations.ts';
import { ownColumns } from './own-columns.ts';
import type { OrderEffect } from './serving-order.ts';

/** What the bottles' age at tasting was found to do, or why that cannot be told. */
export interface AgeReading {
  /**
   * `counted`: its effect is estimated and the means hold at the middle age. `alike`: all were much of an age.
   * `each-mix-once`: each mix was tasted at one age only. `with-sessions`: all mixes aged alike from one sitting to the
   * next. `not-known`: the age of some cups was not recorded.
   */
  status: 'counted' | 'alike' | 'each-mix-once' | 'with-sessions' | 'not-known';
  /** Hours, over the cups whose age is known. */
  youngest: number;
  oldest: number;
  says: string;
  /** Points for each doubling of the age. */
  effect: OrderEffect;
}

/** Its name among the effects that stand beside the mixes. */
export const AGE_EFFECT = 'each doubling of the age';

/** Ages within an hour, or a tenth of the youngest, are alike (common practice, no published source). */
const ALIKE_HOURS = 1;
const ALIKE_SHARE = 0.1;
/** Ages below this count as this, hours: in the first hour a bottle is being mixed. */
const LEAST_HOURS = 1;

/**
 * The cups with a column for their age at tasting where the scores can tell what it does: on a log scale to the base
 * of two, since what ages fast at first ages slowly later (common practice, no published source), about its mean, so
 * that means hold at the middle age. The column must not lie in the span of mixes and sessions together: then some mix
 * was tasted at several ages, and not only because all were. The reference counts as not ageing.
 *
 * @returns the cups, and what is said of their age; null where no age was recorded
 */
export function withAge(
  servings: readonly Serving[],
  cups: Cups,
): { cups: Cups; age: Omit<AgeReading, 'effect'> | null } {
  const hours = Array.from(cups.rows, (row) => agedHours(servings[row]!));
  const known = hours.filter((one) => one !== 'unaged' && one !== null);
  if (known.length === 0) return { cups, age: null };
  const span = { youngest: Math.min(...known), oldest: Math.max(...known) };
  const status: AgeReading['status'] = hours.includes(null)
    ? 'not-known'
    : statusOf(cups, hours as Hours, span);
  const age = { status, ...span, says: sayAge(status, span) };
  if (status !== 'counted') return { cups, age };
  const values = centred(logAges(hours as Hours));
  return { cups: { ...cups, beside: { names: [AGE_EFFECT], values } }, age };
}

/** What stands beside the mixes, told apart: the order of serving, and age by itself. */
export function toldApart(effects: readonly OrderEffect[]): { order?: OrderEffect[]; age?: OrderEffect } {
  const order = effects.filter(({ effect }) => effect !== AGE_EFFECT);
  const age = effects.find(({ effect }) => effect === AGE_EFFECT);
  return { ...(order.length > 0 ? { order } : {}), ...(age ? { age } : {}) };
}

/** What is said of a counted age once its effect is known. */
export function sayAgeEffect({ estimate, p }: OrderEffect): string {
  const moves = `each doubling of a bottle's age moves the score by ${estimate > 0 ? '+' : ''}${figure(estimate)}`;
  if (p === null) return `${moves}, how surely cannot be told; the means hold at the middle age.`;
  return p < 0.05
    ? `Age shows: ${moves}; it was taken out, and the means hold at the middle age.`
    : `Age was counted and does not show: ${moves}, which may be chance; the means hold at the middle age.`;
}

type Hours = readonly (number | 'unaged')[];
type Span = Pick<AgeReading, 'youngest' | 'oldest'>;

/** Null where the age is not known; the reference does not age. */
function agedHours({ mix, hours }: Serving): number | 'unaged' | null {
  if (mix === REFERENCE) return 'unaged';
  return hours ?? null;
}

function statusOf(
  cups: Cups,
  hours: Hours,
  { youngest, oldest }: Span,
): Exclude<AgeReading['status'], 'not-known'> {
  if (oldest - youngest <= ALIKE_HOURS || oldest <= youngest * (1 + ALIKE_SHARE)) return 'alike';
  const values = logAges(hours);
  if (ownColumns(cups, [values]).length === 0) return 'each-mix-once';
  const sessions = sessionColumns(cups);
  return ownColumns(cups, [...sessions, values]).includes(sessions.length) ? 'counted' : 'with-sessions';
}

/** Cups of what does not age stand at the middle of the others. */
function logAges(hours: Hours): Float64Array {
  const logs = hours.map((one) => (one === 'unaged' ? null : Math.log2(Math.max(LEAST_HOURS, one))));
  const known = logs.filter((one) => one !== null);
  const middle = known.reduce((sum, one) => sum + one, 0) / Math.max(1, known.length);
  return Float64Array.from(logs, (one) => one ?? middle);
}

function sessionColumns({ sessions, sessionOf }: Cups): Float64Array[] {
  return sessions
    .slice(1)
    .map((_, k) => Float64Array.from(sessionOf, (session) => Number(session === k + 1)));
}

function centred(values: Float64Array): Float64Array {
  const middle = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.map((value) => value - middle);
}

function sayAge(status: AgeReading['status'], { youngest, oldest }: Span): string {
  const span = `${Math.round(youngest)} to ${Math.round(oldest)} hours old`;
  switch (status) {
    case 'counted':
      return 'Age was counted.';
    case 'alike':
      return 'All cups were much of an age.';
    case 'each-mix-once':
      return `The bottles were ${span} when tasted, each mix at one age only: what age did cannot be told from what the mixes are.`;
    case 'with-sessions':
      return `Mixes were tasted ${span}, but all grew older alike from one sitting to the next: what age did cannot be told from what else differed between the sittings. The reference, or a mix weighed afresh, poured in both would tell.`;
    case 'not-known':
      return 'The age of some bottles was not recorded, so what age did cannot be told.';
  }
}

function figure(value: number): string {
  return String(Number(value.toPrecision(2)));
}
