import { EngineError } from '../errors.ts';
import { requireProbability } from './guard.ts';
import { normalCdf, normalDensity } from './normal.ts';
import { findRoot } from './root.ts';
import { gammaShare, logGamma } from './special.ts';

/**
 * Upper tail of the studentized range made for hundreds of pairs at once. A reading needs it for every pair of mixes
 * of every attribute, where the general routine's milliseconds each add up to seconds; here the tail for known
 * variance is tabulated once for each number of means.
 *
 * P(Q > q) = ∫ f(s) T(q s) ds with f the density of √(χ²/df) and T(w) the chance that the range of k standard
 * normals exceeds w (Hartley 1942; Lund and Lund 1983, Appl. Stat. 32, 204-210, AS 190). In x = log s both ends fall
 * off at least exponentially, so that the trapezoidal rule converges faster than any power of its step.
 *
 * @param q ≥ 0 @param k number of means, ≥ 2 @param df > 0, may be infinite
 * @returns the probability, with about ten relative digits also far out in the tail
 */
export function studentizedRangeUpper(q: number, k: number, df: number): number {
  if (!(k >= 2 && Number.isInteger(k)))
    throw new EngineError('bad-argument', 'k', k, 'a whole number from 2');
  if (!(df > 0)) throw new EngineError('bad-argument', 'df', df, 'above 0');
  if (!(q > 0)) return 1;
  const tail = normalRangeTail(k);
  if (df > LARGE) return Math.exp(tail(q));
  const constant = logDensityAtOne(df / 2);
  const log = (x: number) => constant - (df / 2) * (Math.expm1(2 * x) - 2 * x) + tail(q * Math.exp(x));
  // far out the weight lies where the estimated deviation is small: the climb to the peak begins where T is not 0
  const step = Math.min(0.1, 0.3 / Math.sqrt(2 * df));
  // below this T is one to twelve digits, and with next to no degrees of freedom most of the weight may lie there
  const floor = Math.log(1e-12 / q);
  const below = (x: number) => gammaShare((df / 2) * Math.exp(2 * x), df / 2, false);
  return Math.min(1, integrateExp(log, { step, start: Math.min(0, Math.log(20 / q)), floor, below }));
}

/**
 * q with P(Q ≤ q) = p for the studentized range of `k` means; from the logarithm of the upper tail, so that small tails
 * keep their digits. 0 and infinity at p = 0 and 1.
 */
export function studentizedRangeQuantile(p: number, k: number, df: number): number {
  requireProbability('p', p);
  const wanted = Math.log1p(-p);
  if (p === 0 || p === 1) return p === 0 ? 0 : Number.POSITIVE_INFINITY;
  const over = (q: number) => Math.log(Math.max(studentizedRangeUpper(q, k, df), Number.MIN_VALUE)) - wanted;
  let most = 4;
  while (over(most) > 0) most *= 2;
  return findRoot(over, 0, most, 1e-13 * most).x;
}

/** log of 2 a^a e^(-a) / Γ(a), by Stirling's series where the direct form would cancel. */
function logDensityAtOne(a: number): number {
  if (a < 1e3) return Math.log(2) + a * Math.log(a) - a - logGamma(a);
  return Math.log(2) + Math.log(a / (2 * Math.PI)) / 2 - 1 / (12 * a) + 1 / (360 * a ** 3);
}

/** Above this many degrees of freedom the variance counts as known; the difference is below 1e-8. */
const LARGE = 1e8;

interface Outward {
  step: number;
  /** Where the climb to the peak begins. */
  start: number;
  /** Left of this the integral is known in closed form. */
  floor: number;
  below: (x: number) => number;
}

/** ∫ exp(log x) dx over the line by the trapezoidal rule, outward from the peak until nothing is added. */
function integrateExp(log: (x: number) => number, { step, start, floor, below }: Outward): number {
  let peak = start;
  let height = log(start);
  for (const way of [-1, 1])
    for (let next = log(peak + way * step); next > height; next = log(peak + way * step)) {
      peak += way * step;
      height = next;
    }
  if (height === Number.NEGATIVE_INFINITY) return 0;
  let sum = 1;
  for (let x = peak + step, term = 1; term > 1e-17 * sum; x += step) {
    term = Math.exp(log(x) - height);
    sum += term;
  }
  let x = peak - step;
  for (let term = 1; term > 1e-17 * sum && x > floor; x -= step) {
    term = Math.exp(log(x) - height);
    sum += term;
  }
  const rest = x > floor ? 0 : below(x + step / 2);
  return sum * step * Math.exp(height) + rest;
}

/** The table covers ranges in panels of this length, each with this many Chebyshev points. */
const PANEL = 1;
const POINTS = 12;
/** Beyond this range the tail is below 1e-300. */
const FARTHEST = 52;

const tables = new Map<number, (Float64Array | undefined)[]>();

/** log T(w) for k normals, interpolated in panels that are made when first asked for. */
function normalRangeTail(k: number): (w: number) => number {
  const panels = tables.get(k) ?? [];
  tables.set(k, panels);
  return (w) => {
    if (w >= FARTHEST) return Number.NEGATIVE_INFINITY;
    const index = Math.floor(w / PANEL);
    const panel = panels[index] ?? chebyshev((x) => logRangeTail(x, k), index * PANEL, PANEL);
    panels[index] = panel;
    return clenshaw(panel, (2 * (w - index * PANEL)) / PANEL - 1);
  };
}

/** Chebyshev coefficients of a function over [from, from + length]. */
function chebyshev(f: (x: number) => number, from: number, length: number): Float64Array {
  const angles = Array.from({ length: POINTS }, (_, i) => (Math.PI * (i + 0.5)) / POINTS);
  const values = angles.map((a) => f(from + ((Math.cos(a) + 1) / 2) * length));
  return Float64Array.from({ length: POINTS }, (_, j) => {
    const sum = angles.reduce((s, a, i) => s + values[i]! * Math.cos(j * a), 0);
    return ((j === 0 ? 1 : 2) * sum) / POINTS;
  });
}

function clenshaw(c: Float64Array, x: number): number {
  let [b1, b2] = [0, 0];
  for (let j = c.length - 1; j > 0; j--) [b1, b2] = [2 * x * b1 - b2 + c[j]!, b1];
  return x * b1 - b2 + c[0]!;
}

/**
 * log T(w), T(w) = k ∫ φ(z) [Φ(z)^(k-1) - (Φ(z) - Φ(z-w))^(k-1)] dz, whose integrand is positive and so keeps its
 * digits in the far tail. It is centred on w/2; twice the width of a normal there holds all of it.
 */
function logRangeTail(w: number, k: number): number {
  const step = 0.125;
  let sum = 0;
  for (let z = w / 2 - 9; z <= w / 2 + 9; z += step) {
    const below = normalCdf(z);
    const share = Math.min(1, normalCdf(z - w) / below);
    sum += normalDensity(z) * below ** (k - 1) * -Math.expm1((k - 1) * Math.log1p(-share));
  }
  return Math.log(k * step * sum);
}
