import betainc from '@stdlib/math-base-special-betainc';
import erfc from '@stdlib/math-base-special-erfc';
import erfcinv from '@stdlib/math-base-special-erfcinv';
import gammainc from '@stdlib/math-base-special-gammainc';
import gammaincinv from '@stdlib/math-base-special-gammaincinv';
import gammaln from '@stdlib/math-base-special-gammaln';
import kernelBetaincinv from '@stdlib/math-base-special-kernel-betaincinv';

/** The one door to the special functions; every tail is asked for as such, never as one minus the other. */

/** ln Γ(x). */
export const logGamma = (x: number): number => gammaln(x);

/** Complementary error function and its inverse. */
export const erfcOf = (x: number): number => erfc(x);
export const erfcInverse = (p: number): number => erfcinv(p);

/** Regularised incomplete beta I_x(a, b); `upper` = 1 - I_x(a, b), computed as such. */
export const betaShare = (x: number, a: number, b: number, upper: boolean): number =>
  betainc(x, a, b, true, upper);

/** x with I_x(a, b) = p, or with upper tail p. */
export function betaShareInverse(p: number, a: number, b: number, upper: boolean): number {
  return kernelBetaincinv(a, b, upper ? 1 - p : p, upper ? p : 1 - p)[0] as number;
}

/** Regularised incomplete gamma P(shape, x), or Q = 1 - P as such. */
export const gammaShare = (x: number, shape: number, upper: boolean): number =>
  gammainc(x, shape, true, upper);

/** x with P(shape, x) = p, or with Q = p. */
export const gammaShareInverse = (p: number, shape: number, upper: boolean): number =>
  gammaincinv(p, shape, upper);
