/** A random factor: `levels[i]` in 0..count-1 is the level that row i belongs to. */
export interface RandomFactor {
  name: string;
  levels: Int32Array;
  count: number;
}

/** `fixed` is n × p, row by row, of full column rank; `names` name its p columns. */
export interface MixedProblem {
  y: Float64Array;
  fixed: Float64Array;
  names: readonly string[];
  random: readonly RandomFactor[];
}
