import { studentQuantile } from '../../../engine/numeric/student.ts';

/** The ends of the 95 % interval of an estimate, by Student's t; null where its error or freedom is not known. */
export function intervalOf(row: { mean: number; standardError: number | null; denDf: number | null }): {
  low: number | null;
  high: number | null;
} {
  const { mean, standardError, denDf } = row;
  if (standardError === null || denDf === null) return { low: null, high: null };
  const half = studentQuantile(0.975, denDf) * standardError;
  return { low: mean - half, high: mean + half };
}
