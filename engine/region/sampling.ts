import type { Random } from '../numeric/random.ts';
import { type Region, type RegionBody, toShares } from './region.ts';

/**
 * Points uniform over the region: hit-and-run (Smith 1984) in the region's own frame, in which a thin region is as
 * long as it is wide. Steps run along the frame's axes, one in eight in a random direction.
 *
 * @param count how many points. @param thin steps between two points; default 4 × dimension + 4.
 */
export function samplePoints(
  region: Region,
  random: Random,
  count: number,
  thin = 4 * region.dimension + 4,
): number[][] {
  if (region.dimension === 0) return Array.from({ length: count }, () => [...region.inner]);
  const walker = new Walker(region, random);
  walker.walk(30 * thin);
  return Array.from({ length: count }, () => {
    walker.walk(thin);
    return toShares(region, walker.at);
  });
}

/** Blends uniform over the region, each with settings drawn between their ends, in natural units. */
export function samplePlaces(
  region: Region,
  random: Random,
  count: number,
): { shares: number[]; settings: number[] }[] {
  return samplePoints(region, random, count).map((shares) => ({
    shares,
    settings: region.space.settings.map(({ low, high }) => low + (high - low) * random.uniform()),
  }));
}

/** A walk that keeps the slack of every facet, so that a step along an axis costs one pass over the facets. */
class Walker {
  readonly at: Float64Array;
  readonly #random: Random;
  readonly #inner: Float64Array;
  /** Slopes by axis: facets × dimension, axis by axis. */
  readonly #slopes: Float64Array[];
  readonly #slack: Float64Array;
  #steps = 0;

  constructor(region: RegionBody, random: Random) {
    this.#random = random;
    this.at = new Float64Array(region.dimension);
    this.#inner = Float64Array.from(region.facets, ({ inner }) => inner);
    this.#slack = Float64Array.from(this.#inner);
    this.#slopes = region.frame.map((_, k) => Float64Array.from(region.facets, ({ slope }) => slope[k]!));
  }

  walk(steps: number): void {
    for (let i = 0; i < steps; i++) {
      if (this.#steps++ % 512 === 0) this.#refresh();
      if (this.#steps % 8 === 0) this.#stepAnywhere();
      else {
        const axis = Math.floor(this.#random.uniform() * this.at.length);
        const by = this.#draw(this.#slopes[axis]!);
        this.at[axis] = this.at[axis]! + by;
      }
    }
  }

  #stepAnywhere(): void {
    const direction = this.at.map(() => this.#random.normal());
    const slope = new Float64Array(this.#inner.length);
    this.#slopes.forEach((slopes, k) => {
      for (let f = 0; f < slope.length; f++) slope[f] = slope[f]! + direction[k]! * slopes[f]!;
    });
    const by = this.#draw(slope);
    for (let k = 0; k < this.at.length; k++) this.at[k] = this.at[k]! + by * direction[k]!;
  }

  /** A uniform step within the chord of the given slopes; keeps the slacks. */
  #draw(slope: Float64Array): number {
    const slack = this.#slack;
    let back = Number.NEGATIVE_INFINITY;
    let ahead = Number.POSITIVE_INFINITY;
    for (let f = 0; f < slope.length; f++) {
      const along = slope[f]!;
      const t = -slack[f]! / along;
      if (along > 1e-14) back = Math.max(back, t);
      else if (along < -1e-14) ahead = Math.min(ahead, t);
    }
    const by = back + (ahead - back) * this.#random.uniform();
    if (!Number.isFinite(by) || ahead < back) return 0;
    for (let f = 0; f < slope.length; f++) slack[f] = Math.max(0, slack[f]! + by * slope[f]!);
    return by;
  }

  /** Slacks afresh from where the walk is; only the whole sum may be cut at zero, not what it passes on the way. */
  #refresh(): void {
    const slack = this.#slack;
    slack.set(this.#inner);
    this.#slopes.forEach((slopes, k) => {
      for (let f = 0; f < slack.length; f++) slack[f] = slack[f]! + this.at[k]! * slopes[f]!;
    });
    for (let f = 0; f < slack.length; f++) slack[f] = Math.max(0, slack[f]!);
  }
}
