import { dot, innerProduct } from '../numeric/dense.ts';
import { codeSetting } from '../region/blend-space.ts';
import type { Region } from '../region/region.ts';
import type { Spot } from './candidate-table.ts';
import type { DesignState, Entering, Leaving } from './design-state.ts';
import type { TermSpace } from './term-space.ts';
import { orthonormalTerms } from './term-space.ts';

/** A straight line through a spot, inside the region: spot + t·direction for t in from..to. */
export interface Line {
  spot: Spot;
  shares: readonly number[] | null;
  /** Index of the setting that moves, where shares do not. */
  setting: number | null;
  from: number;
  to: number;
}

/** Lines through a spot along given directions of the blend, as far as the region reaches. */
export function blendLines(region: Region, spot: Spot, directions: readonly (readonly number[])[]): Line[] {
  return directions.flatMap((shares) => {
    let from = Number.NEGATIVE_INFINITY;
    let to = Number.POSITIVE_INFINITY;
    for (const { limit } of region.facets) {
      const along = innerProduct(limit.coefficients, shares);
      const slack = Math.max(0, innerProduct(limit.coefficients, spot.shares) - limit.at);
      if (along > 1e-13) from = Math.max(from, -slack / along);
      else if (along < -1e-13) to = Math.min(to, -slack / along);
    }
    return Number.isFinite(from) && Number.isFinite(to) && to - from > 1e-9
      ? [{ spot, shares, setting: null, from, to }]
      : [];
  });
}

/** One line for each setting that varies. */
export function settingLines(region: Region, spot: Spot): Line[] {
  return region.space.settings.flatMap((setting, s) =>
    setting.high > setting.low
      ? [
          {
            spot,
            shares: null,
            setting: s,
            from: codeSetting(setting, setting.low) - spot.coded[s]!,
            to: codeSetting(setting, setting.high) - spot.coded[s]!,
          },
        ]
      : [],
  );
}

export function spotOn({ spot, shares, setting }: Line, t: number): Spot {
  if (shares !== null)
    return { shares: spot.shares.map((v, i) => Math.max(0, v + t * shares[i]!)), coded: spot.coded };
  return { shares: spot.shares, coded: spot.coded.with(setting!, spot.coded[setting!]! + t) };
}

/** Terms along a line are polynomials of t: their values at `nodes` give them anywhere. */
export interface LineTerms {
  nodes: readonly number[];
  rows: readonly Float64Array[];
}

/** @param degree of the terms along the line. */
export function termsOnLine(space: TermSpace, line: Line, degree: number): LineTerms {
  const nodes = Array.from({ length: degree + 1 }, (_, k) => {
    const place = (1 - Math.cos((Math.PI * k) / degree)) / 2;
    return line.from + (line.to - line.from) * place;
  });
  const rows = nodes.map((t) => {
    const { shares, coded } = spotOn(line, t);
    return orthonormalTerms(space, shares, coded);
  });
  return { nodes, rows };
}

const LOOKS = 24;

/**
 * The place on a line where an exchange gains most: with A applied to the terms at the nodes once, any t costs a
 * handful of operations, so that the line is looked at closely and the best look refined by halving.
 */
export function bestOnLine(
  state: DesignState,
  leaving: Leaving,
  line: Line,
  terms: LineTerms,
): { t: number; gain: number } {
  return peak(gainOnLine(state, leaving, terms), line.from, line.to);
}

/** What an exchange with the spot at t gains, as a function of t that costs a handful of operations. */
export function gainOnLine(state: DesignState, leaving: Leaving, terms: LineTerms): (t: number) => number {
  const products = nodeProducts(state, leaving, terms);
  const entering: Entering = { variance: 0, square: 0, mixed: 0, mixedSquare: 0 };
  const parts = new Float64Array(terms.nodes.length);
  const weight = state.weights[leaving.row]!;
  return (t) => {
    lagrange(terms.nodes, t, parts);
    combine(products, parts, weight, entering);
    return state.gain(leaving, entering);
  };
}

/** The largest of a smooth function of t: equal looks, then halving steps around the best. */
export function peak(value: (t: number) => number, from: number, to: number): { t: number; gain: number } {
  let t = from;
  let gain = value(from);
  for (let k = 1; k <= LOOKS; k++) {
    const at = from + ((to - from) * k) / LOOKS;
    const here = value(at);
    if (here > gain) {
      gain = here;
      t = at;
    }
  }
  for (let step = (to - from) / LOOKS / 2; step > (to - from) * 1e-7; step /= 2)
    for (const at of [Math.max(from, t - step), Math.min(to, t + step)]) {
      const here = value(at);
      if (here > gain) {
        gain = here;
        t = at;
      }
    }
  return { t, gain };
}

interface NodeProducts {
  count: number;
  variance: Float64Array;
  square: Float64Array;
  mixed: Float64Array;
  mixedSquare: Float64Array;
}

function nodeProducts(state: DesignState, leaving: Leaving, { rows }: LineTerms): NodeProducts {
  const count = rows.length;
  const ag = rows.map((g) => state.times(g));
  const variance = new Float64Array(count * count);
  const square = new Float64Array(count * count);
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++) {
      variance[i * count + j] = dot(rows[i]!, ag[j]!);
      square[i * count + j] = dot(ag[i]!, ag[j]!);
    }
  return {
    count,
    variance,
    square,
    mixed: Float64Array.from(rows, (g) => dot(g, leaving.a)),
    mixedSquare: Float64Array.from(rows, (g) => dot(g, leaving.b)),
  };
}

function combine(products: NodeProducts, parts: Float64Array, weight: number, into: Entering): void {
  const { count } = products;
  let variance = 0;
  let square = 0;
  let mixed = 0;
  let mixedSquare = 0;
  for (let i = 0; i < count; i++) {
    const part = parts[i]!;
    mixed += part * products.mixed[i]!;
    mixedSquare += part * products.mixedSquare[i]!;
    for (let j = 0; j < count; j++) {
      variance += part * parts[j]! * products.variance[i * count + j]!;
      square += part * parts[j]! * products.square[i * count + j]!;
    }
  }
  const root = Math.sqrt(weight);
  into.variance = weight * variance;
  into.square = weight * square;
  into.mixed = root * mixed;
  into.mixedSquare = root * mixedSquare;
}

/** Lagrange's basis at t. */
function lagrange(nodes: readonly number[], t: number, parts: Float64Array): void {
  for (let i = 0; i < nodes.length; i++) {
    let part = 1;
    for (let j = 0; j < nodes.length; j++) if (j !== i) part *= (t - nodes[j]!) / (nodes[i]! - nodes[j]!);
    parts[i] = part;
  }
}

/** Largest leverage-like value g'A g along a line. */
export function varianceOnLine(state: DesignState, line: Line, { nodes, rows }: LineTerms) {
  const ag = rows.map((g) => state.times(g));
  const table = rows.map((g) => ag.map((h) => dot(g, h)));
  const parts = new Float64Array(nodes.length);
  return peak(
    (t) => {
      lagrange(nodes, t, parts);
      let sum = 0;
      for (let i = 0; i < nodes.length; i++)
        for (let j = 0; j < nodes.length; j++) sum += parts[i]! * parts[j]! * table[i]![j]!;
      return sum;
    },
    line.from,
    line.to,
  );
}
