import { mean, median, sampleStandardDeviation } from 'simple-statistics';
import { EngineError } from '../errors.ts';

export interface Balance {
  /** Smallest step that it shows, grams. */
  readability: number;
  /** Standard deviation of one weighing, grams, where it has been found from ten; else from rounding alone. */
  repeatability?: number | undefined;
}

/**
 * One standard uncertainty of a mass weighed in by difference: the repeatability where known, else readability/√6
 * (two readings, each rounded evenly within its step: 2 · d²/12).
 *
 * @returns grams
 */
export function weighingUncertainty({ readability, repeatability }: Balance): number {
  requireAbove('readability', readability);
  if (repeatability === undefined) return readability / Math.sqrt(6);
  requireAbove('repeatability', repeatability);
  return repeatability;
}

/**
 * Smallest mass that is known to `tolerance` (as a fraction, one standard uncertainty).
 *
 * @returns grams
 */
export function smallestMass(balance: Balance, tolerance: number): number {
  requireAbove('tolerance', tolerance);
  return weighingUncertainty(balance) / tolerance;
}

/**
 * Minimum weight by USP <41>: two standard deviations of at least ten weighings within 0.10 % of the mass, where a
 * standard deviation below 0.41 of the readability counts as 0.41 of it; so 820 steps at least.
 *
 * @param accuracy the 0.10 % as a fraction; default 0.001
 * @returns grams
 */
export function pharmacopoeiaMinimum(
  { readability, repeatability = 0 }: Balance,
  accuracy: number = 0.001,
): number {
  requireAbove('readability', readability);
  requireAbove('accuracy', accuracy);
  return (2 * Math.max(repeatability, 0.41 * readability)) / accuracy;
}

/** What repeated weighings of one load say of a balance, grams. */
export interface RepeatTrial {
  mean: number;
  /** Standard deviation of the readings as they stand. */
  standardDeviation: number;
  /** What is to count: the standard deviation, but never less than rounding alone leaves (readability/√6). */
  repeatability: number;
  /** The step that the balance shows hides how well it repeats. */
  heldByStep: boolean;
  /** Which reading lies so far from the rest that it was probably mistyped or disturbed, counted from 0. */
  odd: number | null;
}

/** A reading this many robust standard deviations from the median is pointed at (common practice, no published source). */
const ODD = 6;

/**
 * The repeatability of a balance from one load put on and taken off again and again, as USP <41> has it: ten weighings
 * at least, the standard deviation about their own mean, one below 0.41 of the step counting as 0.41 of it (1/√6).
 *
 * @param weighings readings in grams, tared or zeroed before each; ten are usual
 * @param readability the step of the balance, grams
 */
export function repeatTrial(weighings: readonly number[], readability: number): RepeatTrial {
  requireAbove('readability', readability);
  const standardDeviation = repeatabilityOf(weighings);
  const floor = readability / Math.sqrt(6);
  return {
    mean: mean([...weighings]),
    standardDeviation,
    repeatability: Math.max(standardDeviation, floor),
    heldByStep: standardDeviation < floor,
    odd: oddOne(weighings, floor),
  };
}

/** The farthest reading from the median, where the scatter of the others does not reach as far. */
function oddOne(weighings: readonly number[], floor: number): number | null {
  const middle = median([...weighings]);
  const away = weighings.map((value) => Math.abs(value - middle));
  const farthest = away.indexOf(Math.max(...away));
  return away[farthest]! > ODD * Math.max(1.4826 * median(away), floor) ? farthest : null;
}

/** Standard deviation of repeated weighings of one load, grams. @throws EngineError with fewer than two */
export function repeatabilityOf(weighings: readonly number[]): number {
  if (weighings.length < 2 || weighings.some((value) => !Number.isFinite(value)))
    throw new EngineError(
      'bad-argument',
      'weighings',
      weighings,
      'at least two finite masses; ten are usual',
    );
  return sampleStandardDeviation([...weighings]);
}

/** A mass as the balance shows it: the nearest whole number of its steps, free of binary crumbs. */
export function toStep(grams: number, readability: number): number {
  return stepsToGrams(Math.round(grams / readability), readability);
}

/** So many steps of the balance in grams, written as a decimal would be. */
export function stepsToGrams(steps: number, readability: number): number {
  return Number((steps * readability).toPrecision(14));
}

function requireAbove(argument: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value)))
    throw new EngineError('bad-argument', argument, value, 'a finite number above 0');
}
