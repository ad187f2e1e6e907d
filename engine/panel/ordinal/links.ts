import { normalCdf, normalDensity } from '../../numeric/normal.ts';

export type LinkName = 'logit' | 'probit';

/** A distribution of the latent feeling: density, its slope, and the chance between two thresholds. */
export interface Link {
  density(x: number): number;
  slope(x: number): number;
  /** F(upper) - F(lower) without cancellation; thresholds may be infinite. */
  between(lower: number, upper: number): number;
}

const logistic = (x: number) => (x >= 0 ? 1 / (1 + Math.exp(-x)) : Math.exp(x) / (1 + Math.exp(x)));

export const LINKS: Record<LinkName, Link> = {
  logit: {
    density: (x) => logistic(x) * logistic(-x),
    slope: (x) => (Number.isFinite(x) ? logistic(x) * logistic(-x) * (logistic(-x) - logistic(x)) : 0),
    between: (lower, upper) => logistic(upper) * logistic(-lower) * -Math.expm1(lower - upper),
  },
  probit: {
    density: (x) => normalDensity(x),
    slope: (x) => (Number.isFinite(x) ? -x * normalDensity(x) : 0),
    between: (lower, upper) =>
      lower > 0 ? normalCdf(-lower) - normalCdf(-upper) : normalCdf(upper) - normalCdf(lower),
  },
};
