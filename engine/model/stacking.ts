/** How strongly weights are drawn toward equal: as if each model had been best for so much of a blend more. */
const DRAWN_TO_EQUAL = 0.1;
const ROUNDS = 2000;
const STILL = 1e-10;

/**
 * Weights of models by stacking of leave-one-out predictive densities (Yao, Vehtari, Simpson and Gelman 2018,
 * Bayesian Analysis 13, 917-1007), drawn toward equal: the maximum of Σ_g log Σ_k w_k p_kg + Σ_k log w_k, found by
 * the EM algorithm. With few blends no model is ruled out.
 *
 * @param logDensities one list a model: log density of each blend left out
 * @returns weights that sum to one
 */
export function stackingWeights(logDensities: readonly ArrayLike<number>[]): number[] {
  const models = logDensities.length;
  const groups = logDensities[0]?.length ?? 0;
  let weights = logDensities.map(() => 1 / models);
  for (let round = 0; round < ROUNDS; round++) {
    const share = new Float64Array(models).fill(DRAWN_TO_EQUAL);
    for (let g = 0; g < groups; g++) {
      const best = Math.max(...logDensities.map((d) => d[g]!));
      const parts = logDensities.map((d, k) => weights[k]! * Math.exp(d[g]! - best));
      const total = parts.reduce((sum, v) => sum + v, 0);
      parts.forEach((v, k) => {
        share[k]! += v / total;
      });
    }
    const next = Array.from(share, (v) => v / (groups + DRAWN_TO_EQUAL * models));
    const moved = Math.max(...next.map((v, k) => Math.abs(v - weights[k]!)));
    weights = next;
    if (moved < STILL) break;
  }
  return weights;
}
