import { EngineError } from '../errors.ts';
import { CROSSED_POWERS, POWERS_OF_FRACTION, POWERS_OF_WARMTH } from './alcohol-coefficients.ts';

const REFERENCE_CELSIUS = 20;

/**
 * Density of a mixture of ethanol and water, weighed in vacuum.
 *
 * ρ(p, t) = Σ A_k p^(k-1) + Σ B_k (t-20)^k + Σ_i Σ_k C_ik p^k (t-20)^i (OIML R 22, 1975).
 *
 * @param massFraction ethanol by mass, 0 to 1
 * @param celsius -20 to 40; default 20
 * @returns g/mL
 * @throws EngineError outside these ranges
 */
export function alcoholDensity(massFraction: number, celsius: number = REFERENCE_CELSIUS): number {
  requireRange('massFraction', massFraction, [0, 1]);
  requireRange('celsius', celsius, [-20, 40]);
  const warmth = celsius - REFERENCE_CELSIUS;
  const crossed = CROSSED_POWERS.map((row) => massFraction * polynomial(row, massFraction));
  const density =
    polynomial(POWERS_OF_FRACTION, massFraction) +
    warmth * polynomial(POWERS_OF_WARMTH, warmth) +
    warmth * polynomial(crossed, warmth);
  return density / 1000;
}

/** Density of pure ethanol at 20 °C, g/mL. */
export const ETHANOL_DENSITY: number = alcoholDensity(1);

/**
 * Percent ethanol by volume of a mixture: volume of the ethanol alone over the volume of the mixture, both at the
 * same temperature.
 *
 * @param massFraction ethanol by mass, 0 to 1
 * @param celsius at which the volumes are taken; default 20
 * @returns percent by volume, 0 to 100
 */
export function percentByVolume(massFraction: number, celsius: number = REFERENCE_CELSIUS): number {
  return (100 * massFraction * alcoholDensity(massFraction, celsius)) / alcoholDensity(1, celsius);
}

/**
 * Mass fraction of ethanol at a given percent by volume: the inverse of `percentByVolume`, which rises all the way
 * from 0 to 1; found by halving, to the last bit.
 *
 * @param percentVol 0 to 100
 * @param celsius at which the volumes are taken; default 20
 * @returns 0 to 1
 * @throws EngineError where the percentage is outside 0 to 100
 */
export function massFractionOf(percentVol: number, celsius: number = REFERENCE_CELSIUS): number {
  requireRange('percentVol', percentVol, [0, 100]);
  if (percentVol === 0 || percentVol === 100) return percentVol / 100;
  let [low, high] = [0, 1];
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) return middle;
    if (percentByVolume(middle, celsius) < percentVol) low = middle;
    else high = middle;
  }
}

/** Σ c_k x^k by Horner's rule. */
function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);
}

function requireRange(argument: string, value: number, [least, most]: readonly [number, number]): void {
  if (!(value >= least && value <= most))
    throw new EngineError('bad-argument', argument, value, `a number from ${least} to ${most}`);
}
