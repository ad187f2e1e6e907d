import { EngineError } from '../errors.ts';
import type { BlendSpace } from './blend-space.ts';

/** A batch on a balance: whole steps of `readability` that sum to `grams`. */
export interface Batch {
  grams: number;
  readability: number;
  /** Standard deviation of one weighing, grams, where it has been found; else from rounding alone. */
  repeatability?: number | undefined;
  /** How well each mass should be known, as a fraction. */
  tolerance?: number | undefined;
}

/** Strengths, in percent by mass, in which a component may be weighed instead of neat; by component id. */
export type Stocks = Readonly<Record<string, readonly number[]>>;

/** One way to weigh a component. */
export interface WeighingForm {
  /** Percent by mass; 100 = as the brief names it. */
  strength: number;
  /** What one step of the balance holds of the component, in units of the grid. */
  unit: number;
}

/** All masses that can be weighed, counted in units so fine that every step of every stock is a whole number. */
export interface WeighingGrid {
  batch: Batch;
  /** Units to a step of the balance. */
  perStep: number;
  /** Units to the batch. */
  total: number;
  /** Ways to weigh each component, strongest first. */
  forms: readonly (readonly WeighingForm[])[];
}

/** Without `batch.tolerance`, a stock is taken where a mass would be known less well than this. */
const USUAL_TOLERANCE = 0.01;
/** Finest unit: a millionth of a step. */
const FINEST = 1e6;

/** How many steps of the balance make the batch; throws where they are not whole. */
export function stepsOf(batch: Batch): number {
  const steps = Math.round(batch.grams / batch.readability);
  if (steps < 1 || Math.abs(steps * batch.readability - batch.grams) > 1e-9 * batch.grams)
    throw new EngineError(
      'bad-argument',
      'batch.grams',
      batch.grams,
      `a whole multiple of ${batch.readability}, such as ${decimal(Math.max(1, steps) * batch.readability)}`,
    );
  return steps;
}

export function weighingGrid(space: BlendSpace, batch: Batch, stocks: Stocks = {}): WeighingGrid {
  const steps = stepsOf(batch);
  const strengths = space.components.map(({ id }) => [
    100,
    ...(Object.hasOwn(stocks, id) ? [...stocks[id]!].sort((a, b) => b - a) : []),
  ]);
  const perStep = strengths.flat().reduce((units, s) => leastCommon(units, denominator(s)), 1);
  return {
    batch,
    perStep,
    total: steps * perStep,
    forms: strengths.map((list) =>
      list.map((strength) => ({ strength, unit: Math.round((perStep * strength) / 100) })),
    ),
  };
}

/**
 * The form in which to weigh a mass: the strongest that is known within the tolerance, else the best known.
 *
 * @param units mass of the component in units of the grid.
 */
export function formFor(grid: WeighingGrid, component: number, units: number): WeighingForm {
  const forms = grid.forms[component]!;
  const tolerance = grid.batch.tolerance ?? USUAL_TOLERANCE;
  const good = forms.find(
    (form) => units <= 0 || relativeUncertainty(grid.batch, units / form.unit) <= tolerance * (1 + 1e-9),
  );
  return good ?? forms[forms.length - 1]!;
}

/**
 * One standard uncertainty of a mass: the repeatability where it has been found, else readability/√6 (two rounded
 * readings, each uniform within half a step).
 *
 * @returns grams
 */
export function massUncertainty({
  readability,
  repeatability,
}: Pick<Batch, 'readability' | 'repeatability'>): number {
  return repeatability ?? readability / Math.sqrt(6);
}

/** Standard uncertainty of a weighing of so many steps, as a fraction. */
export function relativeUncertainty(batch: Batch, steps: number): number {
  return massUncertainty(batch) / (batch.readability * steps);
}

/** The shortest decimal that a whole number of steps means: 0.30000000000000004 is 0.3. */
export function decimal(value: number): number {
  return Number(value.toPrecision(12));
}

function denominator(percent: number): number {
  for (let scale = 100; scale <= FINEST; scale *= 10) {
    const top = (percent * scale) / 100;
    if (Math.abs(top - Math.round(top)) < 1e-9 * scale) return scale / commonDivisor(Math.round(top), scale);
  }
  throw new EngineError('bad-argument', 'stocks', percent, 'a strength in percent of at most four decimals');
}

function leastCommon(a: number, b: number): number {
  return (a / commonDivisor(a, b)) * b;
}

function commonDivisor(a: number, b: number): number {
  return b === 0 ? a : commonDivisor(b, a % b);
}
