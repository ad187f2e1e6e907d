import { type BlendSpace, codeSetting } from '../region/blend-space.ts';
import type { RegionWidths } from './fit-types.ts';
import type { Point } from './posterior-types.ts';
import type { TastedMix } from './tasted.ts';
import type { TermSet } from './term-set.ts';

/** Points nearer than this in every share and coded setting are the same. */
const SAME = 1e-9;

/** Points made ready: settings coded, term values worked out once for each model. */
export class PointTable {
  readonly points: readonly Point[];
  readonly coded: readonly number[][];
  readonly #rows = new Map<TermSet, Float64Array>();
  readonly #space: BlendSpace;
  readonly #region: RegionWidths;

  constructor(points: readonly Point[], space: BlendSpace, region: RegionWidths) {
    this.points = points;
    this.coded = points.map(({ settings }) => space.settings.map((s, i) => codeSetting(s, settings[i]!)));
    this.#space = space;
    this.#region = region;
  }

  get count(): number {
    return this.points.length;
  }

  /** points × terms. */
  rows(set: TermSet): Float64Array {
    const known = this.#rows.get(set);
    if (known) return known;
    const p = set.names.length;
    const out = new Float64Array(this.count * p);
    this.points.forEach(({ shares }, i) => {
      set.evaluate(shares, this.coded[i]!, out.subarray(i * p, (i + 1) * p));
    });
    this.#rows.set(set, out);
    return out;
  }

  /** Place among the tasted mixes of the one that each point is; -1 for an untasted ratio. */
  tastedAs(mixes: readonly TastedMix[]): Int32Array {
    return Int32Array.from(this.points, ({ shares }, i) =>
      mixes.findIndex(
        (mix) =>
          mix.shares.every((v, c) => Math.abs(v - shares[c]!) < SAME) &&
          mix.coded.every((v, s) => Math.abs(v - this.coded[i]![s]!) < SAME),
      ),
    );
  }

  /** Shares over the region's widths and coded settings: coordinates in which the region is about one long. */
  scaled(point: number): number[] {
    const { centroid, low, high } = this.#region;
    const blend = this.points[point]!.shares.map((v, c) => {
      const width = high[c]! - low[c]!;
      return width > 0 ? (v - centroid[c]!) / width : 0;
    });
    return [...blend, ...this.#space.settings.map((_, s) => this.coded[point]![s]! / 2)];
  }
}
