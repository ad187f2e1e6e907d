import { EngineError } from '../errors.ts';
import { innerProduct } from '../numeric/dense.ts';
import type { LinearSolver } from '../numeric/linear-solver.ts';
import { createRandom } from '../numeric/random.ts';
import { complementOf, removeSpan, spanOf } from './affine-hull.ts';
import type { BlendSpace } from './blend-space.ts';
import { meanOf } from './centres.ts';
import { findCorners } from './corners.ts';
import { refuseEmpty } from './empty-region.ts';
import { frameOf } from './frame.ts';
import { impliedBounds } from './implied-bounds.ts';
import { boundRow, type Limit, limitsOf, type Names } from './limits.ts';
import type { Facet, Region, RegionBody } from './region.ts';
import { boxOf, ShareProgram } from './share-program.ts';

/** A bound whose left side varies by less than this over the region, relative to its natural scale, is an equality. */
const FLAT = 1e-9;
/** Bounds that miss each other by less than this, relative to the ranges of the shares, still touch. */
const TOUCHES = 1e-9;

/** A distinct left side with the range it takes over the region. */
interface RowRange {
  coefficients: readonly number[];
  least: number;
  most: number;
}

export interface RegionOptions {
  /** Display names by component id, for the sentences; default the ids. */
  names?: Names | undefined;
  /** For the sample of corners where there are too many to list; default 1. */
  seed?: number | undefined;
  /** Counted comparisons spent on corners before a sample is drawn; default 400 million. */
  workLimit?: number | undefined;
}

/**
 * What a space allows: ranges that really occur, with the reason where they are narrower than asked; equalities
 * and the number of free directions; a frame in which the region is well rounded whatever the components' scales;
 * all corners.
 *
 * @throws EngineError `empty-region`: names the smallest set of bounds that conflict and how far each must give.
 */
export function describeRegion(space: BlendSpace, solver: LinearSolver, options: RegionOptions = {}): Region {
  checkSpace(space);
  const names = options.names ?? {};
  const limits = limitsOf(space);
  const box = boxOf(limits, space.components.length);
  if (box === null) throw refuseEmpty({ space, names, limits, solver });
  const program = new ShareProgram(solver, box, limits);
  if (space.bounds.length > 0 && program.leastMiss() > TOUCHES)
    throw refuseEmpty({ space, names, limits, solver });
  const body = bodyOf({ space, names, limits, solver }, program);
  const corners = findCorners(body, {
    program,
    workLimit: options.workLimit,
    random: createRandom(options.seed ?? 1, 'corners'),
  });
  return {
    ...body,
    corners,
    centroid: meanOf(corners.points),
    warnings: warningsOf(space, body.implied, body.dimension),
  };
}

interface Context {
  space: BlendSpace;
  names: Names;
  limits: readonly Limit[];
  solver: LinearSolver;
}

function bodyOf(context: Context, program: ShareProgram): RegionBody {
  const { space, names, limits } = context;
  const points: number[][] = [];
  const ranges = rowsOf(space).map((coefficients) => rangeOf(program, coefficients, points));
  const low = space.components.map((c, i) => snap(ranges[i]!.least, c.low));
  const high = space.components.map((c, i) => snap(ranges[i]!.most, c.high));
  const width = high.map((h, i) => (h - low[i]! > FLAT * Math.max(h, 1e-3) ? h - low[i]! : 0));
  const flat = (row: RowRange) => row.most - row.least <= FLAT * natural(row.coefficients, width);
  const hull = hullOf(ranges.filter(flat), width);
  spread(program, hull, width, points);
  const frame = frameOf(hull, width, points);
  const inner = hull.length === 0 ? low : meanOf(points);
  const rangeFor = (limit: Limit) => ranges[rowIndex(space, limit)]!;
  const dimension = hull.length;
  return {
    space,
    names,
    shape: dimension === 0 ? 'point' : dimension < space.components.length - 1 ? 'flat' : 'full',
    dimension,
    low,
    high: high.map((h, i) => (width[i] === 0 ? low[i]! : h)),
    implied: impliedBounds(context, low, high),
    equalities: limits.filter((limit) => flat(rangeFor(limit)) && touches(limit, rangeFor(limit), width)),
    facets: limits.flatMap((limit) => facetOf(limit, rangeFor(limit), flat, inner, frame.directions)),
    inner,
    basis: spanOf(hull.map((u) => u.map((c, i) => c * width[i]!))),
    frame: frame.directions,
    inverse: frame.inverse,
  };
}

function checkSpace(space: BlendSpace): void {
  const q = space.components.length;
  if (q < 2 || q > 12) throw new EngineError('bad-argument', 'components', q, '2 to 12 components');
  space.components.forEach(({ low, high }, i) => {
    if (!Number.isFinite(low) || !Number.isFinite(high))
      throw new EngineError('bad-argument', `components[${i}]`, [low, high], 'finite low and high');
  });
}

/** Left sides: the shares themselves, then the bounds. */
function rowsOf(space: BlendSpace): number[][] {
  const q = space.components.length;
  return [
    ...Array.from({ length: q }, (_, i) => Array.from({ length: q }, (_, j) => (i === j ? 1 : 0))),
    ...space.bounds.map((_, b) => boundRow(space, b)),
  ];
}

function rowIndex(space: BlendSpace, { kind, index }: Limit): number {
  return kind === 'low' || kind === 'high' ? index : space.components.length + index;
}

function rangeOf(program: ShareProgram, coefficients: readonly number[], points: number[][]): RowRange {
  const least = program.extreme(coefficients, 'minimise');
  const most = program.extreme(coefficients, 'maximise');
  points.push(least, most);
  return { coefficients, least: innerProduct(coefficients, least), most: innerProduct(coefficients, most) };
}

/** The given value where the computed one only differs in the last digits. */
function snap(value: number, given: number): number {
  return Math.abs(value - given) <= 1e-12 ? given : value;
}

function natural(coefficients: readonly number[], width: readonly number[]): number {
  return Math.max(
    1e-12,
    coefficients.reduce((sum, c, i) => sum + Math.abs(c) * width[i]!, 0),
  );
}

/** Orthonormal directions, in shares over their widths, that keep the sum and every equality. */
function hullOf(flat: readonly RowRange[], width: readonly number[]): number[][] {
  const fixed = width.flatMap((w, i) => (w === 0 ? [width.map((_, j) => (i === j ? 1 : 0))] : []));
  const scaled = [width, ...flat.map(({ coefficients }) => coefficients.map((c, i) => c * width[i]!))];
  const rows = scaled.filter((row) => row.some((c) => c !== 0));
  return complementOf([...fixed, ...rows], width.length);
}

/** Adds extreme mixes until they span the hull: two along each direction that the earlier ones leave open. */
function spread(
  program: ShareProgram,
  hull: readonly number[][],
  width: readonly number[],
  points: number[][],
): void {
  const known: number[][] = [];
  while (known.length < hull.length) {
    const open = hull.map((h) => removeSpan(h, known));
    const lengths = open.map((h) => innerProduct(h, h));
    const direction = open[lengths.indexOf(Math.max(...lengths))]!;
    const objective = direction.map((c, i) => (width[i]! > 0 ? c / width[i]! : 0));
    const ends = (['minimise', 'maximise'] as const).map((sense) => program.extreme(objective, sense));
    points.push(...ends);
    const along = ends[1]!.map((v, i) => (width[i]! > 0 ? (v - ends[0]![i]!) / width[i]! : 0));
    const fresh = spanOf([removeSpan(along, known)])[0];
    known.push(fresh ?? spanOf([direction])[0]!);
  }
}

function touches(limit: Limit, row: RowRange, width: readonly number[]): boolean {
  const upper = limit.kind === 'high' || limit.kind === 'most';
  const slack = upper ? -limit.at - row.most : row.least - limit.at;
  return Math.abs(slack) <= TOUCHES * Math.max(natural(row.coefficients, width), 1e-3);
}

/** A limit as a facet, or nothing where it is an equality or nowhere reached. */
function facetOf(
  limit: Limit,
  row: RowRange,
  flat: (row: RowRange) => boolean,
  inner: readonly number[],
  frame: readonly (readonly number[])[],
): Facet[] {
  if (flat(row)) return [];
  const range = row.most - row.least;
  const upper = limit.kind === 'high' || limit.kind === 'most';
  const closest = upper ? -limit.at - row.most : row.least - limit.at;
  if (closest > TOUCHES * range) return [];
  return [
    {
      limit,
      range,
      inner: (innerProduct(limit.coefficients, inner) - limit.at) / range,
      slope: frame.map((direction) => innerProduct(limit.coefficients, direction) / range),
    },
  ];
}

function warningsOf(space: BlendSpace, implied: Region['implied'], dimension: number): string[] {
  const warnings = implied.filter(({ natural }) => !natural).map(({ says }) => says);
  const full = space.components.length - 1;
  if (dimension === 0) warnings.push('The bounds leave a single blend: ratios cannot vary at all.');
  else if (dimension < full)
    warnings.push(
      `The bounds leave the blend ${dimension === 1 ? 'one direction' : `${dimension} directions`} to vary in, not ${full}: some effects cannot be told apart.`,
    );
  return warnings;
}
