import type { AttributeContext } from './attribute-context.ts';

/** Fewer shared cups than this say nothing of a correlation. */
const FEWEST = 4;

/**
 * Correlations between attributes, from what the mixes leave over in the scores of shared cups (residuals of mix as
 * a factor with the panel's effects), shrunk to zero by the share that keeps the expected squared error least
 * (Schäfer and Strimmer 2005, Statistical Applications in Genetics and Molecular Biology 4, 32). Positive definite.
 *
 * @param contexts one an attribute, null where there is nothing to model
 * @returns attributes × attributes
 */
export function attributeCorrelation(contexts: readonly (AttributeContext | null)[]): Float64Array {
  const k = contexts.length;
  const standardised = contexts.map((context) => (context ? standardResiduals(context) : null));
  const raw = new Float64Array(k * k);
  let [noise, signal] = [0, 0];
  for (let i = 0; i < k; i++)
    for (let j = 0; j < i; j++) {
      const found = correlate(standardised[i]!, standardised[j]!);
      if (!found) continue;
      raw[i * k + j] = raw[j * k + i] = found.r;
      noise += found.variance;
      signal += found.r ** 2;
    }
  const shrink = signal > 0 ? Math.min(1, Math.max(LEAST, noise / signal)) : 1;
  return raw.map((r, at) => (at % (k + 1) === 0 ? 1 : (1 - shrink) * r));
}

/** Some shrinkage always, so that the matrix stays positive definite when gaps differ between attributes. */
const LEAST = 0.05;

/** Residual over its standard deviation, by serving. */
function standardResiduals({
  mixModel: { fit },
  tasted: { cups },
}: AttributeContext): Map<number, number> | null {
  const size = Math.sqrt(fit.residuals.reduce((sum, e) => sum + e * e, 0) / fit.residuals.length);
  if (!(size > 0)) return null;
  return new Map(Array.from(cups.rows, (row, i) => [row, fit.residuals[i]! / size]));
}

function correlate(a: Map<number, number> | null, b: Map<number, number> | null) {
  if (!a || !b) return null;
  const products = [...a].flatMap(([row, value]) => {
    const other = b.get(row);
    return other === undefined ? [] : [value * other];
  });
  const n = products.length;
  if (n < FEWEST) return null;
  const r = products.reduce((sum, v) => sum + v, 0) / n;
  const scatter = products.reduce((sum, v) => sum + (v - r) ** 2, 0) / (n * (n - 1));
  return { r: Math.max(-1, Math.min(1, r)), variance: scatter };
}
