import { innerProduct } from '../numeric/dense.ts';
import type { BlendSpace } from './blend-space.ts';
import type { Limit, Names } from './limits.ts';

/** A limit that really cuts the region, as slack over the region's own coordinates. */
export interface Facet {
  limit: Limit;
  /** Most slack that any mix of the region has; slacks below are relative to it. */
  range: number;
  /** Relative slack at the region's inner point. */
  inner: number;
  /** Change of the relative slack along each direction of the frame. */
  slope: readonly number[];
}

/** A low or high that other bounds make unreachable, with the reason in words. */
export interface ImpliedBound {
  component: number;
  side: 'low' | 'high';
  asked: number;
  implied: number;
  /** True where the brief left this side open (0 or 1). */
  natural: boolean;
  says: string;
}

/**
 * The mixes that a space allows. Coordinates: shares = inner + Σ yₖ·frame[k], where the frame is scaled so that
 * the region is about as long in every direction, however thin it is in shares.
 */
export interface RegionBody {
  space: BlendSpace;
  names: Names;
  shape: 'full' | 'flat' | 'point';
  /** Number of directions in which the blend can vary: components minus one, or less in a flat region. */
  dimension: number;
  /** Lowest and highest share of each component that occurs in the region. */
  low: readonly number[];
  high: readonly number[];
  implied: readonly ImpliedBound[];
  /** Limits that hold with equality everywhere in the region, the sum of the shares left out. */
  equalities: readonly Limit[];
  facets: readonly Facet[];
  /** A mix in the relative interior; the mix itself where there is only one. */
  inner: readonly number[];
  /** Orthonormal directions of the affine hull, in shares. */
  basis: readonly (readonly number[])[];
  frame: readonly (readonly number[])[];
  /** Rows that turn shares - inner into frame coordinates. */
  inverse: readonly (readonly number[])[];
}

export interface Corners {
  /** Shares of each corner, sorted. */
  points: readonly number[][];
  /** Pairs of corners that share an edge; empty where the list is a sample. */
  edges: readonly (readonly [number, number])[];
  /** The facets on which each corner lies. */
  facets: readonly number[][];
  /** False where there are too many to list: the corners are then a seeded sample. */
  complete: boolean;
  /** Counted comparisons that it took. */
  work: number;
}

/** A region with its corners, as all other rooms use it. */
export interface Region extends RegionBody {
  corners: Corners;
  /** The mean of the corners: the overall centroid of McLean and Anderson (1966). */
  centroid: readonly number[];
  warnings: readonly string[];
}

/** Shares of the mix at the given frame coordinates. */
export function toShares(region: RegionBody, y: ArrayLike<number>): number[] {
  const shares = [...region.inner];
  for (let k = 0; k < region.dimension; k++) {
    const direction = region.frame[k]!;
    for (let i = 0; i < shares.length; i++) shares[i] = shares[i]! + y[k]! * direction[i]!;
  }
  return shares;
}

/** Frame coordinates of a mix; what lies outside the affine hull is dropped. */
export function toFrame(region: RegionBody, shares: ArrayLike<number>): number[] {
  const offset = region.inner.map((c, i) => shares[i]! - c);
  return region.inverse.map((row) => innerProduct(row, offset));
}

/** Slack of a facet at a mix, relative to the most it has anywhere in the region. */
export function slackOf(facet: Facet, shares: ArrayLike<number>): number {
  return (innerProduct(facet.limit.coefficients, shares) - facet.limit.at) / facet.range;
}

/**
 * Whether a mix obeys every bound of the space. `tolerance` is absolute in shares, times the size of a bound's
 * coefficients; it covers decimals that binary fractions only come near to.
 */
export function isAllowed(region: RegionBody, shares: ArrayLike<number>, tolerance = 1e-10): boolean {
  const holds = ({ coefficients, at }: Limit, equal: boolean): boolean => {
    const size = Math.max(1e-300, ...coefficients.map(Math.abs));
    const slack = (innerProduct(coefficients, shares) - at) / size;
    return slack >= -tolerance && (!equal || slack <= tolerance);
  };
  return (
    region.facets.every(({ limit }) => holds(limit, false)) &&
    region.equalities.every((limit) => holds(limit, true))
  );
}
