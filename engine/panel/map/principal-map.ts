import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { EngineError } from '../../errors.ts';

export interface MapOptions {
  /** `covariance` keeps the attributes' own spread, `correlation` gives each the same. Default covariance. */
  scale?: 'covariance' | 'correlation';
  /** Components kept, default 2. */
  components?: number;
}

export interface PrincipalMap {
  status: 'estimated' | 'not-estimable';
  reason: string | null;
  /** Mixes × components. */
  scores: number[][];
  /** Attributes × components, unit columns; 0 for an attribute that does not vary where all get the same spread. */
  loadings: number[][];
  /** Standard deviation along each component, all of them. */
  deviations: number[];
  /** Share of the whole variance along each component, all of them. */
  explained: number[];
  centre: number[];
  /** What each attribute was divided by. */
  spread: number[];
}

/**
 * A map of mixes and attributes by principal components of the table of means (by singular values, divisor mixes - 1).
 * The sign of each component is fixed so that its largest loading is positive.
 *
 * @param means mixes × attributes, complete, at least 3 mixes and 1 attribute
 * @returns `not-estimable` where the mixes do not differ
 */
export function principalMap(means: readonly (readonly number[])[], options: MapOptions = {}): PrincipalMap {
  const { scale = 'covariance', components = 2 } = options;
  const width = means[0]?.length ?? 0;
  if (
    means.length < 3 ||
    width < 1 ||
    means.some((row) => row.length !== width || !row.every(Number.isFinite))
  )
    throw new EngineError('bad-argument', 'means', means.length, 'a complete table of at least 3 mixes');
  const centre = columnMeans(means);
  const spread = centre.map((_, j) => (scale === 'correlation' ? deviationOf(means, centre, j) : 1));
  const table = means.map((row) => row.map((v, j) => (spread[j]! > 0 ? (v - centre[j]!) / spread[j]! : 0)));
  const svd = new SingularValueDecomposition(new Matrix(table), { autoTranspose: true });
  const rank = Math.min(means.length - 1, width);
  const deviations = svd.diagonal.slice(0, rank).map((d) => d / Math.sqrt(means.length - 1));
  const total = deviations.reduce((sum, d) => sum + d * d, 0);
  const size = Math.max(...means.flat().map(Math.abs));
  if (!(total > (1e-12 * (scale === 'covariance' ? size : 1)) ** 2))
    return {
      status: 'not-estimable',
      reason: 'the mixes do not differ',
      scores: [],
      loadings: [],
      deviations: [],
      explained: [],
      centre,
      spread,
    };
  const kept = Math.min(components, rank);
  const axes = Array.from({ length: kept }, (_, c) => signed(svd.rightSingularVectors.getColumn(c)));
  return {
    status: 'estimated',
    reason: null,
    scores: table.map((row) => axes.map((axis) => row.reduce((sum, v, j) => sum + v * axis[j]!, 0))),
    loadings: centre.map((_, j) => axes.map((axis) => axis[j]!)),
    deviations,
    explained: deviations.map((d) => (d * d) / total),
    centre,
    spread,
  };
}

function columnMeans(table: readonly (readonly number[])[]): number[] {
  return table[0]!.map((_, j) => table.reduce((sum, row) => sum + row[j]!, 0) / table.length);
}

/** Standard deviation of a column; 0 where it does not vary beyond rounding. */
function deviationOf(table: readonly (readonly number[])[], centre: readonly number[], j: number): number {
  const square = table.reduce((sum, row) => sum + (row[j]! - centre[j]!) ** 2, 0) / (table.length - 1);
  const deviation = Math.sqrt(square);
  return deviation > 1e-12 * Math.abs(centre[j]!) ? deviation : 0;
}

function signed(axis: readonly number[]): number[] {
  const largest = axis.reduce((most, v) => (Math.abs(v) > Math.abs(most) + 1e-12 ? v : most), 0);
  return axis.map((v) => (largest < 0 ? -v : v));
}
