import { EngineError } from '../errors.ts';

/** Kronrod's 15 points with the 7 of Gauss among them: abscissa ≥ 0, Kronrod weight, Gauss weight (QUADPACK, qk15). */
const RULE: readonly (readonly [number, number, number])[] = [
  [0, 0.20948214108472782, 0.4179591836734694],
  [0.20778495500789848, 0.20443294007529889, 0],
  [0.4058451513773972, 0.19035057806478542, 0.3818300505051189],
  [0.5860872354676911, 0.1690047266392679, 0],
  [0.7415311855993945, 0.14065325971552592, 0.27970539148927664],
  [0.8648644233597691, 0.10479001032225019, 0],
  [0.9491079123427585, 0.06309209262997856, 0.1294849661688697],
  [0.9914553711208126, 0.022935322010529224, 0],
];

export interface Integral {
  value: number;
  /** An estimate, usually far too large. */
  error: number;
  evaluations: number;
  status: 'converged' | 'stopped';
}

interface Piece {
  from: number;
  to: number;
  value: number;
  error: number;
}

/**
 * ∫ f from `from` to `to` by the Gauss-Kronrod rule of 15 points, halving the worst piece until the error is below
 * `tolerance` · |integral| (or `absolute`); Piessens et al., QUADPACK (1983), routine QAG.
 *
 * @param tolerance relative; default 1e-12 @param absolute default 0 @returns value, error estimate and status
 * @throws EngineError `bad-argument` for infinite limits
 */
export function integrate(
  f: (x: number) => number,
  from: number,
  to: number,
  { tolerance = 1e-12, absolute = 0, pieces = 200 } = {},
): Integral {
  if (!Number.isFinite(from) || !Number.isFinite(to))
    throw new EngineError('bad-argument', 'from, to', [from, to], 'finite limits');
  const parts = [pieceOf(f, from, to)];
  let status: Integral['status'] = 'converged';
  for (;;) {
    const error = parts.reduce((sum, p) => sum + p.error, 0);
    const value = parts.reduce((sum, p) => sum + p.value, 0);
    if (error <= Math.max(absolute, tolerance * Math.abs(value)) || parts.every(exhausted))
      return { value, error, evaluations: 15 * (2 * parts.length - 1), status };
    if (parts.length >= pieces) {
      status = 'stopped';
      return { value, error, evaluations: 15 * (2 * parts.length - 1), status };
    }
    const worst = parts.reduce((a, b) => (b.error > a.error ? b : a));
    const middle = (worst.from + worst.to) / 2;
    parts.splice(parts.indexOf(worst), 1, pieceOf(f, worst.from, middle), pieceOf(f, middle, worst.to));
  }
}

/** A piece whose error estimate is only rounding cannot be bettered. */
function exhausted(piece: Piece): boolean {
  return piece.error <= 1e-15 * Math.abs(piece.value);
}

function pieceOf(f: (x: number) => number, from: number, to: number): Piece {
  const middle = (from + to) / 2;
  const half = (to - from) / 2;
  let kronrod = 0;
  let gauss = 0;
  for (const [x, wide, narrow] of RULE) {
    const sum = x === 0 ? f(middle) : f(middle - half * x) + f(middle + half * x);
    kronrod += wide * sum;
    gauss += narrow * sum;
  }
  return { from, to, value: half * kronrod, error: Math.abs(half * (kronrod - gauss)) };
}

/**
 * Abscissas and weights of Gauss and Legendre on [-1, 1] by Newton's method on the three-term recurrence (Davis and
 * Rabinowitz 1984); exact for polynomials of degree 2 · points - 1.
 */
export function gaussLegendre(points: number): { x: Float64Array; weight: Float64Array } {
  if (!Number.isInteger(points) || points < 1)
    throw new EngineError('bad-argument', 'points', points, 'a whole number of at least 1');
  const x = new Float64Array(points);
  const weight = new Float64Array(points);
  for (let i = 0; i < points; i++) {
    let at = -Math.cos((Math.PI * (i + 0.75)) / (points + 0.5));
    for (let pass = 0; pass < 100; pass++) {
      const { value, slope } = legendre(points, at);
      const step = value / slope;
      at -= step;
      if (Math.abs(step) < 1e-15) break;
    }
    x[i] = at;
    weight[i] = 2 / ((1 - at * at) * legendre(points, at).slope ** 2);
  }
  return { x, weight };
}

/** The Legendre polynomial of a degree and its derivative at x. */
function legendre(degree: number, x: number): { value: number; slope: number } {
  let [before, value] = [0, 1];
  for (let k = 1; k <= degree; k++)
    [before, value] = [value, ((2 * k - 1) * x * value - (k - 1) * before) / k];
  return { value, slope: (degree * (x * value - before)) / (x * x - 1) };
}
