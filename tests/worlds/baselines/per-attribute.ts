import type { NamedStream } from '../../../trials/demo/named-stream.ts';
import { type Evidence, type Method, plainMeans, type Recipe } from './baseline.ts';
import { candidateRecipes } from './candidates.ts';
import { fitGaussianProcess } from './gaussian-process.ts';
import { meanSquare, type PlainTarget, plainTargets } from './plain-aim.ts';
import { fitRidgeQuadratic } from './ridge-quadratic.ts';
import { indexOfLeast, scaledInputs, spreadOut } from './scaled-inputs.ts';
import type { Fitter, Surrogate } from './surrogate.ts';

const FIRST_ROUND = 8;
const CANDIDATES = 700;
const DRAWS = 128;

/** One Gaussian process per attribute, expected improvement of the composite, least expected square at the end. */
export const processPerAttribute: Method = perAttribute('process per attribute', fitGaussianProcess);

/** The same with one ridge quadratic per attribute. */
export const ridgePerAttribute: Method = perAttribute('ridge quadratic per attribute', fitRidgeQuadratic);

function perAttribute(name: string, fitter: Fitter): Method {
  return {
    name,
    propose(evidence, count, stream) {
      const candidates = candidateRecipes(evidence, CANDIDATES, stream);
      if (evidence.made.length < FIRST_ROUND) return spreadOut(evidence.world.space, candidates, count);
      return improveInTurn(evidence, { candidates, count, fitter, stream });
    },
    recommend(evidence, stream) {
      const candidates = candidateRecipes(evidence, 3 * CANDIDATES, stream);
      const { targets, surrogates } = fitAll(evidence, fitter);
      const { space } = evidence.world;
      const expected = candidates.map((recipe) =>
        expectedSquare(targets, surrogates, scaledInputs(space, recipe)),
      );
      return candidates[indexOfLeast(expected)]!;
    },
  };
}

interface Search {
  candidates: Recipe[];
  count: number;
  fitter: Fitter;
  stream: NamedStream;
}

/** Greedy batch: after each choice the surrogates believe their own mean there. */
function improveInTurn(evidence: Evidence, { candidates, count, fitter, stream }: Search): Recipe[] {
  const { space } = evidence.world;
  const fitted = fitAll(evidence, fitter);
  const { targets } = fitted;
  let { surrogates } = fitted;
  const inputs = candidates.map((recipe) => scaledInputs(space, recipe));
  const tasted = evidence.made.map((recipe) => scaledInputs(space, recipe));
  const normals = Array.from({ length: DRAWS }, () => targets.map(() => stream.normal(1)));
  const chosen: Recipe[] = [];
  while (chosen.length < count) {
    const least = Math.min(...tasted.map((input) => distanceAtMean(targets, surrogates, input)));
    const gains = inputs.map((input) => expectedImprovement(targets, surrogates, { input, least, normals }));
    const pick = indexOfLeast(gains.map((gain) => -gain));
    chosen.push(candidates[pick]!);
    tasted.push(inputs[pick]!);
    surrogates = surrogates.map((surrogate) => surrogate.believing(inputs[pick]!));
  }
  return chosen;
}

function fitAll(evidence: Evidence, fitter: Fitter): { targets: PlainTarget[]; surrogates: Surrogate[] } {
  const targets = plainTargets(evidence);
  const means = evidence.made.map(({ mix }) => plainMeans(evidence, mix));
  const inputs = evidence.made.map((recipe) => scaledInputs(evidence.world.space, recipe));
  const surrogates = targets.map(({ attribute }) => {
    const kept = means.map((row, i) => ({ y: row[attribute] ?? null, i })).filter(({ y }) => y !== null);
    return fitter(
      kept.map(({ i }) => inputs[i]!),
      kept.map(({ y }) => y!),
    );
  });
  return { targets, surrogates };
}

function distanceAtMean(
  targets: readonly PlainTarget[],
  surrogates: readonly Surrogate[],
  input: readonly number[],
): number {
  return compositeOf(
    targets,
    surrogates.map((surrogate) => surrogate.predict(input).mean),
  );
}

function expectedImprovement(
  targets: readonly PlainTarget[],
  surrogates: readonly Surrogate[],
  at: { input: readonly number[]; least: number; normals: readonly (readonly number[])[] },
): number {
  const predicted = surrogates.map((surrogate) => surrogate.predict(at.input));
  const deviations = predicted.map(({ variance }) => Math.sqrt(variance));
  let sum = 0;
  for (const normal of at.normals) {
    const drawn = predicted.map(({ mean }, t) => mean + deviations[t]! * normal[t]!);
    sum += Math.max(0, at.least - compositeOf(targets, drawn));
  }
  return sum / at.normals.length;
}

/** Scores here follow the targets, not the attributes. */
function compositeOf(targets: readonly PlainTarget[], scores: readonly number[]): number {
  const inTurn = targets.map((target, t) => ({ ...target, attribute: t }));
  return Math.sqrt(meanSquare(inTurn, scores));
}

/** Mean square miss at the mean, with the variance added (for ranges, where the mean lies outside). */
function expectedSquare(
  targets: readonly PlainTarget[],
  surrogates: readonly Surrogate[],
  input: readonly number[],
): number {
  let squares = 0;
  let weights = 0;
  targets.forEach(({ weight, low, high }, t) => {
    const { mean, variance } = surrogates[t]!.predict(input);
    squares += weight * ((mean - Math.min(high, Math.max(low, mean))) ** 2 + variance);
    weights += weight;
  });
  return squares / weights;
}
