import { cholesky, solveLower } from '../numeric/dense.ts';
import { independentColumns } from '../numeric/least-squares.ts';
import { orthogonalFactors } from '../numeric/orthogonal.ts';
import type { Random } from '../numeric/random.ts';
import type { Region } from '../region/region.ts';
import { regionRule } from '../region/region-rule.ts';
import { samplePoints } from '../region/sampling.ts';
import { evaluateTerms, lineDegree, type Term } from './terms.ts';

/** A term whose part outside the span of earlier ones is smaller than this, relative to itself, is aliased. */
const ALIASED = 1e-11;
/** Multiplications that an exact mean may cost. */
const AFFORDABLE = 1e9;

/**
 * The terms of a model over a region, in coordinates g = T f in which their mean of products over blends and
 * settings is the identity. There the average variance of a design is the trace of (Σ g g')⁻¹, and nothing
 * depends on the scale of components.
 */
export interface TermSpace {
  terms: readonly Term[];
  /** Terms left out because over this region they are combinations of earlier ones. */
  aliased: readonly Term[];
  /** T, p × p, lower triangular, row by row. */
  transform: Float64Array;
  /** log det of the mean of f f': what turns log det Σ g g' into log det X'X. */
  logDetMoments: number;
  /** Mean of g over blends and settings. */
  mean: Float64Array;
  /** True where the means behind it are exact; else they come from points spread over the region. */
  exact: boolean;
}

/** Drops aliased terms from the last backward and finds the coordinates in which the rest are orthonormal. */
export function termSpace(region: Region, all: readonly Term[], random: Random): TermSpace {
  const probes = probePoints(region, 6 * all.length + 40, random.fork('probes'));
  const rows = new Float64Array(probes.length * all.length);
  probes.forEach(({ shares, coded }, i) => {
    rows.set(evaluateTerms(all, shares, coded), i * all.length);
  });
  const kept = independentColumns(rows, probes.length, all.length, ALIASED);
  const terms = kept.map((t) => all[t]!);
  const p = terms.length;
  const first = roughTransform(rows, probes.length, all.length, kept);
  const { moments, mean, exact } = momentsOf(region, terms, first.transform, random.fork('moments'));
  const logDet = cholesky(moments, p);
  const transform = Float64Array.from(first.transform);
  if (logDet !== null) {
    solveLower({ l: moments, n: p, at: 0 }, transform, p);
    solveLower({ l: moments, n: p, at: 0 }, mean, 1);
  }
  return {
    terms,
    aliased: all.filter((_, t) => !kept.includes(t)),
    transform,
    logDetMoments: (logDet ?? 0) + first.logDet,
    mean,
    exact,
  };
}

interface Probe {
  shares: readonly number[];
  coded: readonly number[];
}

/** Corners, their mean and uniform points, each with random settings among -1, 0 and 1. */
function probePoints(region: Region, count: number, random: Random): Probe[] {
  const corners = random.shuffle(region.corners.points).slice(0, count);
  const blends = [...corners, region.centroid, ...samplePoints(region, random, count)];
  const varies = region.space.settings.map(({ low, high }) => high > low);
  return blends.map((shares) => ({
    shares,
    coded: varies.map((v) => (v ? random.integer(3) - 1 : 0)),
  }));
}

/** R⁻ᵀ from the orthogonal factors of the terms at the probes, scaled to a mean over them. */
function roughTransform(rows: Float64Array, n: number, width: number, kept: readonly number[]) {
  const p = kept.length;
  const used = new Float64Array(n * p);
  for (let i = 0; i < n; i++)
    kept.forEach((t, j) => {
      used[i * p + j] = rows[i * width + t]!;
    });
  const { r, logDetR } = orthogonalFactors(used, n, p);
  const transform = new Float64Array(p * p);
  const root = Math.sqrt(n);
  for (let j = 0; j < p; j++) {
    transform[j * p + j] = root / r[j * p + j]!;
    for (let i = j + 1; i < p; i++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum += r[k * p + i]! * transform[k * p + j]!;
      transform[i * p + j] = -sum / r[i * p + i]!;
    }
  }
  return { transform, logDet: 2 * logDetR - p * Math.log(n) };
}

/** Mean of (T f)(T f)' over blends and settings, uniform and independent. */
function momentsOf(region: Region, terms: readonly Term[], transform: Float64Array, random: Random) {
  const p = terms.length;
  const settings = settingRule(region);
  const polynomial = terms.every(({ logs }) => logs === undefined);
  const most = polynomial ? Math.floor(AFFORDABLE / (p * p * settings.length)) : 0;
  const rule = regionRule(region, { degree: 2 * lineDegree(terms), most, random });
  const moments = new Float64Array(p * p);
  const mean = new Float64Array(p);
  const f = new Float64Array(p);
  const g = new Float64Array(p);
  const add = (shares: ArrayLike<number>, coded: ArrayLike<number>, weight: number): void => {
    evaluateTerms(terms, shares, coded, f);
    transformTerms(transform, f, g);
    for (let i = 0; i < p; i++) {
      const scaled = weight * g[i]!;
      mean[i] = mean[i]! + scaled;
      for (let j = 0; j <= i; j++) moments[i * p + j] = moments[i * p + j]! + scaled * g[j]!;
    }
  };
  const drawn = new Float64Array(region.space.settings.length);
  rule.visit((shares, weight) => {
    if (rule.exact) for (const s of settings) add(shares, s.coded, weight * s.weight);
    else {
      region.space.settings.forEach(({ low, high }, s) => {
        drawn[s] = high > low ? 2 * random.uniform() - 1 : 0;
      });
      add(shares, drawn, weight);
    }
  });
  for (let i = 0; i < p; i++) for (let j = 0; j < i; j++) moments[j * p + i] = moments[i * p + j]!;
  return { moments, mean, exact: rule.exact };
}

/** Gauss-Legendre with three points a setting: exact to degree five in each, and terms bring no more than four. */
function settingRule(region: Region): { coded: number[]; weight: number }[] {
  const node = Math.sqrt(0.6);
  let rule: { coded: number[]; weight: number }[] = [{ coded: [], weight: 1 }];
  for (const { low, high } of region.space.settings)
    rule = rule.flatMap(({ coded, weight }) =>
      high > low
        ? [-node, 0, node].map((z) => ({ coded: [...coded, z], weight: (weight * (z === 0 ? 8 : 5)) / 18 }))
        : [{ coded: [...coded, 0], weight }],
    );
  return rule;
}

/** g = T f for lower triangular T. */
export function transformTerms(transform: Float64Array, f: Float64Array, g: Float64Array): void {
  const p = f.length;
  for (let i = 0; i < p; i++) {
    let sum = 0;
    const row = i * p;
    for (let j = 0; j <= i; j++) sum += transform[row + j]! * f[j]!;
    g[i] = sum;
  }
}

/** Evaluates the terms at a point and carries them into the orthonormal coordinates. */
export function orthonormalTerms(
  { terms, transform }: TermSpace,
  shares: ArrayLike<number>,
  coded: ArrayLike<number>,
): Float64Array {
  const f = evaluateTerms(terms, shares, coded);
  const g = new Float64Array(f.length);
  transformTerms(transform, f, g);
  return g;
}
