import type { Random } from '../numeric/random.ts';
import { buildFaceTree, type FaceTree, numbersNeeded, uniformPoint, visitSimplices } from './face-tree.ts';
import type { Region } from './region.ts';
import { samplePoints } from './sampling.ts';

/** Points and weights, summing to 1, whose weighted sum stands for the mean over the region. */
export interface RegionRule {
  count: number;
  /** True where polynomials up to the degree asked for come out exactly. */
  exact: boolean;
  /** Calls with each point, in an array that is used again, and its weight. */
  visit(use: (shares: Float64Array, weight: number) => void): void;
}

export interface RuleOptions {
  /** Highest degree in the shares that must come out exactly. */
  degree: number;
  /** Most points of an exact rule; default 600,000. */
  most?: number | undefined;
  /** Points of the sample where an exact rule would need more; default 65,536. */
  sampled?: number | undefined;
  random: Random;
}

/**
 * The mean over a region, in the best way that its size allows: exact, by the rule of Grundmann and Möller (1978)
 * in each simplex of a dissection; over evenly spread points carried onto the region by volume; over a random walk.
 */
export function regionRule(region: Region, options: RuleOptions): RegionRule {
  const { degree, most = 600_000, sampled = 65_536, random } = options;
  if (region.dimension === 0) return pointRule(region);
  const tree = buildFaceTree(region);
  if (tree === null) return walkRule(region, WALK * sampled, random);
  const rule = simplexRule(region.dimension, Math.max(0, Math.ceil((degree - 1) / 2)));
  if (tree.root.simplices * rule.length <= most) return exactRule(region, tree, rule);
  return spreadRule(region, tree, sampled, random);
}

function pointRule(region: Region): RegionRule {
  return { count: 1, exact: true, visit: (use) => use(Float64Array.from(region.inner), 1) };
}

function exactRule(region: Region, tree: FaceTree, rule: readonly SimplexPoint[]): RegionRule {
  const { points } = region.corners;
  const shares = new Float64Array(region.inner.length);
  return {
    count: tree.root.simplices * rule.length,
    exact: true,
    visit: (use) =>
      visitSimplices(tree, (simplex, volume) => {
        for (const { parts, weight } of rule) {
          shares.fill(0);
          for (let k = 0; k < simplex.length; k++) {
            const corner = points[simplex[k]!]!;
            for (let i = 0; i < shares.length; i++) shares[i] = shares[i]! + parts[k]! * corner[i]!;
          }
          use(shares, volume * weight);
        }
      }),
  };
}

/** Square roots of primes: their multiples, modulo 1, fill the cube evenly (Richtmyer 1951). */
const ROOTS = [
  2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53, 59, 61, 67, 71, 73, 79, 83, 89,
].map((prime) => Math.sqrt(prime) % 1);

function spreadRule(region: Region, tree: FaceTree, count: number, random: Random): RegionRule {
  const start = Float64Array.from({ length: numbersNeeded(region) }, () => random.uniform());
  const shares = new Float64Array(region.inner.length);
  return {
    count,
    exact: false,
    visit: (use) => {
      const u = Float64Array.from(start);
      for (let n = 0; n < count; n++) {
        uniformPoint(region, tree, u, shares);
        use(shares, 1 / count);
        for (let k = 0; k < u.length; k++) u[k] = (u[k]! + ROOTS[k]!) % 1;
      }
    },
  };
}

/** Points of a walk hang together, so that it takes more of them than evenly spread ones. */
const WALK = 3;

function walkRule(region: Region, count: number, random: Random): RegionRule {
  const points = samplePoints(region, random, count);
  const shares = new Float64Array(region.inner.length);
  return {
    count,
    exact: false,
    visit: (use) => {
      for (const point of points) {
        shares.set(point);
        use(shares, 1 / count);
      }
    },
  };
}

interface SimplexPoint {
  /** Barycentric coordinates. */
  parts: number[];
  weight: number;
}

/**
 * The rule of index s on the n-simplex, exact to degree 2s + 1: weights
 * (-1)^i 2^(-2s) (2s+1+n-2i)^(2s+1) n! / (i! (2s+1+n-i)!) at the points (2βₖ+1)/(2s+1+n-2i), Σβ = s - i
 * (Grundmann and Möller 1978, theorem 4). Some weights are negative.
 */
export function simplexRule(n: number, s: number): SimplexPoint[] {
  const degree = 2 * s + 1;
  return Array.from({ length: s + 1 }, (_, i) => i).flatMap((i) => {
    const base = degree + n - 2 * i;
    let weight = (i % 2 === 0 ? 1 : -1) * 2 ** (-2 * s) * base ** degree;
    for (let k = 2; k <= i; k++) weight /= k;
    for (let k = n + 1; k <= degree + n - i; k++) weight /= k;
    return compositions(s - i, n + 1).map((beta) => ({
      parts: beta.map((b) => (2 * b + 1) / base),
      weight,
    }));
  });
}

function compositions(total: number, parts: number): number[][] {
  if (parts === 1) return [[total]];
  return Array.from({ length: total + 1 }, (_, first) => first).flatMap((first) =>
    compositions(total - first, parts - 1).map((rest) => [first, ...rest]),
  );
}
