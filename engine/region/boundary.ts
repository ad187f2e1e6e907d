import { innerProduct } from '../numeric/dense.ts';
import { isAllowed, type Region } from './region.ts';

/**
 * Distance of a mix from the boundary, in shares (Euclidean, within the affine hull): how far it may be moved in
 * any allowed direction. Negative outside: minus the distance to the bound that is missed by most.
 */
export function distanceToBoundary(region: Region, shares: readonly number[]): number {
  if (region.dimension === 0) return isAllowed(region, shares) ? 0 : Number.NEGATIVE_INFINITY;
  const distances = region.facets.map(({ limit }) => {
    const along = region.basis.map((b) => innerProduct(limit.coefficients, b));
    return (innerProduct(limit.coefficients, shares) - limit.at) / Math.sqrt(innerProduct(along, along));
  });
  return Math.min(...distances);
}
