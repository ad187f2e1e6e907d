import type { NamedStream } from '../../../trials/demo/named-stream.ts';
import { type Evidence, type Method, plainMeans, type Recipe } from './baseline.ts';
import { candidateRecipes } from './candidates.ts';
import { fitGaussianProcess } from './gaussian-process.ts';
import { meanSquare, plainTargets } from './plain-aim.ts';
import { indexOfLeast, scaledInputs, spreadOut } from './scaled-inputs.ts';

const FIRST_ROUND = 8;
const CANDIDATES = 700;

/** One Gaussian process on the overall miss of each mix, with expected improvement (Jones and others 1998). */
export const processOnOverallMiss: Method = {
  name: 'process on the overall miss',
  propose(evidence, count, stream) {
    const candidates = candidateRecipes(evidence, CANDIDATES, stream);
    if (evidence.made.length < FIRST_ROUND) return spreadOut(evidence.world.space, candidates, count);
    return improveInTurn(evidence, candidates, count);
  },
  recommend(evidence: Evidence, stream: NamedStream): Recipe {
    const candidates = candidateRecipes(evidence, 3 * CANDIDATES, stream);
    const process = fitMisses(evidence);
    const { space } = evidence.world;
    return candidates[indexOfLeast(candidates.map((r) => process.predict(scaledInputs(space, r)).mean))]!;
  },
};

function improveInTurn(evidence: Evidence, candidates: readonly Recipe[], count: number): Recipe[] {
  const { space } = evidence.world;
  const inputs = candidates.map((recipe) => scaledInputs(space, recipe));
  const tasted = evidence.made.map((recipe) => scaledInputs(space, recipe));
  let process = fitMisses(evidence);
  return Array.from({ length: count }, () => {
    const least = Math.min(...tasted.map((input) => process.predict(input).mean));
    const gains = inputs.map((input) => closedForm(least, process.predict(input)));
    const pick = indexOfLeast(gains.map((gain) => -gain));
    process = process.believing(inputs[pick]!);
    tasted.push(inputs[pick]!);
    return candidates[pick]!;
  });
}

function fitMisses(evidence: Evidence) {
  const targets = plainTargets(evidence);
  const inputs = evidence.made.map((recipe) => scaledInputs(evidence.world.space, recipe));
  const misses = evidence.made.map(({ mix }) => Math.sqrt(meanSquare(targets, plainMeans(evidence, mix))));
  return fitGaussianProcess(inputs, misses);
}

/** Expected improvement below `least` of a normal value, in closed form. */
function closedForm(least: number, { mean, variance }: { mean: number; variance: number }): number {
  const deviation = Math.sqrt(variance);
  if (deviation < 1e-9) return Math.max(0, least - mean);
  const z = (least - mean) / deviation;
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  return deviation * (z * normalShare(z) + density);
}

/** Abramowitz and Stegun 26.2.17, good to 7.5e-8. */
function normalShare(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const series =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * series;
  return z > 0 ? 1 - tail : tail;
}
