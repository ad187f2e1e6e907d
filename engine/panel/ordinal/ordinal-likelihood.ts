import type { Quadrature } from './gauss-hermite.ts';
import type { Link } from './links.ts';

/** Ratings in categories 0..categories-1, `x` n × p row by row; rows of one assessor share a `group`. */
export interface OrdinalData {
  y: Int32Array;
  x: Float64Array;
  p: number;
  categories: number;
  /** Rows of each assessor. */
  groups: readonly Int32Array[];
  link: Link;
}

/** Log likelihood with its gradient in (thresholds, coefficients, σ), and each assessor's most likely effect. */
export interface OrdinalValue {
  value: number;
  gradient: Float64Array;
  /** In units of σ. */
  modes: Float64Array;
}

/**
 * The likelihood P(y ≤ j) = F(θ_j - x'β - σ v_a), v_a ~ N(0, 1), with each assessor's v integrated out by adaptive
 * Gauss-Hermite quadrature about its mode (Pinheiro and Bates 1995), or v = 0 where `quadrature` is null. The
 * gradient is the posterior mean of the gradient at known v (Fisher's identity). Null where thresholds do not rise.
 */
export function ordinalLikelihood(
  data: OrdinalData,
  parameters: Float64Array,
  quadrature: Quadrature | null,
): OrdinalValue | null {
  const levels = data.categories - 1;
  for (let j = 1; j < levels; j++) if (!(parameters[j]! > parameters[j - 1]!)) return null;
  const eta = linearPart(data, parameters);
  const sigma = quadrature ? parameters[parameters.length - 1]! : 0;
  const gradient = new Float64Array(parameters.length);
  const modes = new Float64Array(data.groups.length);
  let value = 0;
  data.groups.forEach((rows, a) => {
    const at = new Assessor(data, parameters, eta, rows, sigma);
    if (quadrature) {
      modes[a] = at.mode();
      value += at.integrate(modes[a]!, quadrature, gradient);
    } else {
      value += at.logDensity(0);
      at.addGradient([0], [1], gradient);
    }
  });
  return Number.isFinite(value) ? { value, gradient, modes } : null;
}

function linearPart({ x, p, y, categories }: OrdinalData, parameters: Float64Array): Float64Array {
  return Float64Array.from(y, (_, i) => {
    let sum = 0;
    for (let c = 0; c < p; c++) sum += x[i * p + c]! * parameters[categories - 1 + c]!;
    return sum;
  });
}

/** One assessor's ratings as a function of the assessor's effect v. */
class Assessor {
  readonly #data: OrdinalData;
  readonly #parameters: Float64Array;
  readonly #eta: Float64Array;
  readonly #rows: Int32Array;
  readonly #sigma: number;

  constructor(
    data: OrdinalData,
    parameters: Float64Array,
    eta: Float64Array,
    rows: Int32Array,
    sigma: number,
  ) {
    this.#data = data;
    this.#parameters = parameters;
    this.#eta = eta;
    this.#rows = rows;
    this.#sigma = sigma;
  }

  /** Distances of a row's two thresholds from its centre at v. */
  #limits(row: number, v: number): [number, number] {
    const { y, categories } = this.#data;
    const centre = this.#eta[row]! + this.#sigma * v;
    const j = y[row]!;
    const lower = j === 0 ? Number.NEGATIVE_INFINITY : this.#parameters[j - 1]! - centre;
    const upper = j === categories - 1 ? Number.POSITIVE_INFINITY : this.#parameters[j]! - centre;
    return [lower, upper];
  }

  logDensity(v: number): number {
    let sum = 0;
    for (const row of this.#rows) sum += Math.log(this.#data.link.between(...this.#limits(row, v)));
    return sum;
  }

  /** First and second derivative in the centre of one row. */
  #derivatives(row: number, v: number): [number, number] {
    const { link } = this.#data;
    const [lower, upper] = this.#limits(row, v);
    const p = link.between(lower, upper);
    const first = -(link.density(upper) - link.density(lower)) / p;
    return [first, (link.slope(upper) - link.slope(lower)) / p - first * first];
  }

  /** The v of the highest logDensity(v) - v²/2, by Newton's method on a concave function. */
  mode(): number {
    let v = 0;
    for (let step = 0; step < 50; step++) {
      const [first, second] = this.#slopes(v);
      const move = Math.max(-1, Math.min(1, -first / second));
      v += move;
      if (Math.abs(move) < 1e-10) break;
    }
    return v;
  }

  /** Derivatives of logDensity(v) - v²/2 in v. */
  #slopes(v: number): [number, number] {
    let [first, second] = [-v, -1];
    for (const row of this.#rows) {
      const [a, b] = this.#derivatives(row, v);
      first += this.#sigma * a;
      second += this.#sigma * this.#sigma * b;
    }
    return [first, second];
  }

  /** log ∫ exp(logDensity(v)) φ(v) dv; adds the posterior mean of the gradient to `gradient`. */
  integrate(mode: number, { nodes, weights }: Quadrature, gradient: Float64Array): number {
    const width = Math.SQRT2 / Math.sqrt(-this.#slopes(mode)[1]);
    const points = nodes.map((x) => mode + width * x);
    const logs = points.map(
      (v, q) => Math.log(weights[q]!) + nodes[q]! ** 2 + this.logDensity(v) - (v * v) / 2,
    );
    const highest = Math.max(...logs);
    const shares = logs.map((l) => Math.exp(l - highest));
    const total = shares.reduce((sum, s) => sum + s, 0);
    const weightsAt = shares.map((share) => (share > 1e-18 * total ? share / total : 0));
    this.addGradient(points, weightsAt, gradient);
    return highest + Math.log(total) + Math.log(width) - Math.log(2 * Math.PI) / 2;
  }

  /** Adds the gradient averaged over several v; a row's coefficients are reached once, whatever their number. */
  addGradient(points: readonly number[], shares: readonly number[], gradient: Float64Array): void {
    const { y, x, p, categories, link } = this.#data;
    for (const row of this.#rows) {
      let [up, down, along] = [0, 0, 0];
      for (let q = 0; q < points.length; q++) {
        if (shares[q] === 0) continue;
        const [lower, upper] = this.#limits(row, points[q]!);
        const scale = shares[q]! / link.between(lower, upper);
        const above = scale * link.density(upper);
        const below = scale * link.density(lower);
        up += above;
        down += below;
        along += (above - below) * points[q]!;
      }
      const j = y[row]!;
      if (j > 0) gradient[j - 1]! -= down;
      if (j < categories - 1) gradient[j]! += up;
      for (let c = 0; c < p; c++) gradient[categories - 1 + c]! -= (up - down) * x[row * p + c]!;
      if (gradient.length > categories - 1 + p) gradient[gradient.length - 1]! -= along;
    }
  }
}
