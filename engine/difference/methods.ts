import { normalCdf, normalDensity } from '../numeric/normal.ts';

/** Forced-choice tests of whether tasters can tell two samples apart. */
export type DifferenceMethod = 'triangle' | 'duo-trio' | 'tetrad' | 'two-afc' | 'three-afc';

export interface MethodFacts {
  /** Chance of a correct answer by guessing alone. */
  chance: number;
  cups: number;
  /**
   * Derivative of the chance of a correct answer to d′, the distance of the two samples' perceived intensities in
   * standard deviations of a single perception.
   */
  slope(dPrime: number): number;
}

const { SQRT2 } = Math;
const ROOT_SIX = Math.sqrt(6);
const twoSided = (x: number) => 2 * normalCdf(x) - 1;

/**
 * Thurstonian models (Ennis 1993, J. Sensory Studies 8, 353-370; tetrad: Ennis, Ennis, Palen and Lampe 2014). Every
 * cup is perceived as a normal number of standard deviation 1; samples A have mean 0, samples B mean d.
 *
 * Only derivatives are written down, because they are closed and the chance is their integral from guessing:
 * - two-afc: correct where B > A: pc = Φ(d/√2).
 * - three-afc: pc = ∫ φ(x-d) Φ(x)² dx. By parts pc′ = ∫ φ(x-d) 2 Φ(x) φ(x) dx; as φ(x) φ(x-d) =
 *   φ(d/√2) √2 φ(√2 (x-d/2)) / √2 and E Φ(Y) = Φ(μ/√(1+σ²)) for Y normal(μ, σ²), pc′ = √2 φ(d/√2) Φ(d/√6).
 * - triangle: correct where the two A are nearer to each other than either to B:
 *   pc = 2 ∫₀^∞ [Φ(-x√3 + δ) + Φ(-x√3 - δ)] φ(x) dx, δ = d √⅔. Its derivative completes the square to
 *   √⅔ φ(d/√6) (2 Φ(d/√2) - 1).
 * - duo-trio: correct where the A is nearer to the reference A: pc = 1 - Φ(d/√2) - Φ(d/√6) + 2 Φ(d/√2) Φ(d/√6).
 * - tetrad (two groups of two): correct where both A lie on one side of both B:
 *   pc = 1 - 2 ∫ φ(x) [2 Φ(x) Φ(x-d) - Φ(x-d)²] dx, pc′ = 4 ∫ φ(x) φ(x-d) [Φ(x) - Φ(x-d)] dx
 *   = 2√2 φ(d/√2) (2 Φ(d/√6) - 1).
 */
const FACTS: Record<DifferenceMethod, MethodFacts> = {
  'two-afc': { chance: 1 / 2, cups: 2, slope: (d) => normalDensity(d / SQRT2) / SQRT2 },
  'three-afc': {
    chance: 1 / 3,
    cups: 3,
    slope: (d) => SQRT2 * normalDensity(d / SQRT2) * normalCdf(d / ROOT_SIX),
  },
  triangle: {
    chance: 1 / 3,
    cups: 3,
    slope: (d) => Math.sqrt(2 / 3) * normalDensity(d / ROOT_SIX) * twoSided(d / SQRT2),
  },
  'duo-trio': {
    chance: 1 / 2,
    cups: 3,
    slope: (d) =>
      (normalDensity(d / SQRT2) * twoSided(d / ROOT_SIX)) / SQRT2 +
      (normalDensity(d / ROOT_SIX) * twoSided(d / SQRT2)) / ROOT_SIX,
  },
  tetrad: {
    chance: 1 / 3,
    cups: 4,
    slope: (d) => 2 * SQRT2 * normalDensity(d / SQRT2) * twoSided(d / ROOT_SIX),
  },
};

export const DIFFERENCE_METHODS = Object.keys(FACTS) as DifferenceMethod[];

export function factsOf(method: DifferenceMethod): MethodFacts {
  return FACTS[method];
}
