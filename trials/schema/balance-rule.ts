import { repeatTrial } from '../../engine/bench/balance.ts';
import type { Brief } from './brief.ts';
import type { Report } from './schema-faults.ts';

/** Relative slack for decimals that binary fractions only come near to (4 / 0.01 is not 400 to the last bit). */
const SLACK = 1e-9;

/** How many steps of the balance make up a mass, or null where it is no whole number of them. */
export function wholeSteps(grams: number, readability: number): number | null {
  const steps = grams / readability;
  const whole = Math.round(steps);
  return whole >= 1 && Math.abs(steps - whole) <= SLACK * whole ? whole : null;
}

/** Refuses a readability that does not divide the batch, naming the nearest that does and the nearest batch. */
export function checkBalance(brief: Brief, report: Pick<Report, 'fault'>): void {
  const { grams, readability } = brief.batch;
  if (wholeSteps(grams, readability) !== null) return;
  const near = nearestDivisors(grams, readability);
  const batch = tidy(Math.max(1, Math.round(grams / readability)) * readability);
  report.fault(
    ['batch', 'readability'],
    readability,
    `a readability that divides batch.grams ${grams} (the nearest ${near.length > 1 ? 'are' : 'is'} ${near.join(' and ')}); or batch.grams ${batch}`,
  );
}

/**
 * The batch with the repeatability that its weighings show, never better than rounding allows: what is to count from
 * then on. Without either, nothing is added.
 */
export function withRepeatability(batch: Brief['batch']): Brief['batch'] {
  const { readability, weighings, repeatability } = batch;
  if (weighings !== undefined && repeatability === undefined)
    return { ...batch, repeatability: repeatTrial(weighings, readability).repeatability };
  const floor = readability / Math.sqrt(6);
  return repeatability === undefined || repeatability >= floor ? batch : { ...batch, repeatability: floor };
}

/** Judges how well the balance is said to repeat against its weighings and its step. */
export function checkRepeatability({ batch }: Brief, report: Report): void {
  const { readability, weighings, repeatability } = batch;
  const at = ['batch', 'repeatability'];
  const floor = readability / Math.sqrt(6);
  if (weighings === undefined) {
    if (repeatability !== undefined && repeatability < floor)
      report.warn(at, `a balance in steps of ${readability} g repeats no better than ${short(floor)} g`);
    return;
  }
  const trial = repeatTrial(weighings, readability);
  if (repeatability !== undefined && Math.abs(repeatability - trial.repeatability) > 1e-6 * repeatability)
    report.fault(
      at,
      repeatability,
      `${short(trial.repeatability)}, which batch.weighings show, or nothing: it is worked out from them`,
    );
  const place = ['batch', 'weighings'];
  if (trial.odd !== null)
    report.warn([...place, trial.odd], `${weighings[trial.odd]} g lies far from the other weighings`);
  if (trial.heldByStep)
    report.warn(place, `steps of ${readability} g hide how well it repeats; ${short(floor)} g counts`);
}

function short(grams: number): string {
  return String(Number(grams.toPrecision(3)));
}

/**
 * The readabilities nearest to a given one that divide a mass, among those with as many decimals as a balance of
 * that kind shows, and failing these the nearest mass over a whole number. Two where they are equally near.
 */
function nearestDivisors(grams: number, readability: number): number[] {
  const unit = 10 ** -decimals(readability);
  const own = Math.round(readability / unit);
  for (let away = 1; away <= own + Math.ceil(grams / unit) && away <= 100_000; away++) {
    const found = [own - away, own + away].filter((n) => n > 0 && wholeSteps(grams, n * unit) !== null);
    if (found.length > 0) return found.map((n) => tidy(n * unit));
  }
  return [tidy(grams / Math.max(1, Math.round(grams / readability)))];
}

function decimals(value: number): number {
  const [digits = '', exponent = '0'] = value.toString().split('e');
  const point = digits.indexOf('.');
  return Math.max(0, (point < 0 ? 0 : digits.length - point - 1) - Number(exponent));
}

function tidy(value: number): number {
  return Number(value.toPrecision(12));
}
