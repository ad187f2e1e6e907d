import type { BlendSpace } from '../region/blend-space.ts';

/** Scheffé's canonical polynomials, from poor to rich. */
export const SCHEFFE_MODELS = ['linear', 'quadratic', 'special-cubic', 'full-cubic'] as const;
export type ScheffeModel = (typeof SCHEFFE_MODELS)[number];
/** What a plan can be laid out for. */
export const PLANNED_MODELS = [...SCHEFFE_MODELS, 'log-ratio'] as const;
export type PlannedModel = (typeof PLANNED_MODELS)[number];

/**
 * One term of a model: a product of coded settings and of shares, times (first - second share) for the
 * `a*b*(a-b)` terms of the full cubic. `order` is the degree in the shares.
 */
export interface Term {
  name: string;
  settings: readonly number[];
  components: readonly number[];
  difference: boolean;
  /** Factors log(share / other share), of the log contrast model alone. */
  logs?: readonly LogFactor[];
}

/** log(max(share, least) / max(other share, its least)), by component. */
export interface LogFactor {
  component: number;
  least: number;
  over: number;
  overLeast: number;
}

/**
 * The terms of a model over a space, in the order: components, products of two, of three, cubic differences,
 * then settings crossed with components (or alone, where a setting acts on the whole), then, from the quadratic
 * up, squares of settings and products of two. There is no constant: the shares sum to one (Scheffé 1958, 1963).
 */
export function modelTerms(space: BlendSpace, model: ScheffeModel): Term[] {
  const degree = SCHEFFE_MODELS.indexOf(model) + 1;
  const q = space.components.length;
  const pairs = pairsOf(q);
  const terms: Term[] = range(q).map((i) => blendTerm(space, [i]));
  if (degree >= 2) for (const pair of pairs) terms.push(blendTerm(space, pair));
  if (degree >= 3) for (const triple of triplesOf(q)) terms.push(blendTerm(space, triple));
  if (degree >= 4) for (const pair of pairs) terms.push(differenceTerm(space, pair));
  return [...terms, ...settingTerms(space, degree)];
}

/** Evaluates the terms at one point: shares and coded settings in the order of the space. */
export function evaluateTerms(
  terms: readonly Term[],
  shares: ArrayLike<number>,
  coded: ArrayLike<number>,
  out: Float64Array = new Float64Array(terms.length),
): Float64Array {
  for (let t = 0; t < terms.length; t++) {
    const term = terms[t]!;
    let value = 1;
    for (const s of term.settings) value *= coded[s]!;
    for (const c of term.components) value *= shares[c]!;
    if (term.difference) value *= shares[term.components[0]!]! - shares[term.components[1]!]!;
    if (term.logs !== undefined) value *= logProduct(term.logs, shares);
    out[t] = value;
  }
  return out;
}

/** Terms with logarithms are no polynomials along a line; one of this degree comes near to them. */
const NEAR_LOGARITHM = 8;

/** Degree of the polynomials that the terms are along a straight line of blends, or that stand for them. */
export function lineDegree(terms: readonly Term[]): number {
  if (terms.some(({ logs }) => logs !== undefined)) return NEAR_LOGARITHM;
  return Math.max(...terms.map(({ components, difference }) => components.length + (difference ? 1 : 0)));
}

function logProduct(logs: readonly LogFactor[], shares: ArrayLike<number>): number {
  let value = 1;
  for (const { component, least, over, overLeast } of logs)
    value *= Math.log(Math.max(shares[component]!, least) / Math.max(shares[over]!, overLeast));
  return value;
}

function settingTerms(space: BlendSpace, degree: number): Term[] {
  const terms: Term[] = [];
  space.settings.forEach((setting, s) => {
    if (setting.acts === 'whole') terms.push(settingTerm(space, [s]));
    else for (const c of range(space.components.length)) terms.push(settingTerm(space, [s], [c]));
  });
  if (degree >= 2) {
    for (const s of range(space.settings.length)) terms.push(settingTerm(space, [s, s]));
    for (const pair of pairsOf(space.settings.length)) terms.push(settingTerm(space, pair));
  }
  return terms;
}

function blendTerm(space: BlendSpace, components: readonly number[]): Term {
  return { name: nameOf(space, [], components), settings: [], components, difference: false };
}

function differenceTerm(space: BlendSpace, pair: readonly [number, number]): Term {
  const [a, b] = pair.map((c) => space.components[c]!.id);
  return { name: `${a}*${b}*(${a}-${b})`, settings: [], components: pair, difference: true };
}

function settingTerm(
  space: BlendSpace,
  settings: readonly number[],
  components: readonly number[] = [],
): Term {
  return { name: nameOf(space, settings, components), settings, components, difference: false };
}

function nameOf(space: BlendSpace, settings: readonly number[], components: readonly number[]): string {
  return [
    ...settings.map((s) => space.settings[s]!.id),
    ...components.map((c) => space.components[c]!.id),
  ].join('*');
}

function range(n: number): number[] {
  return Array.from({ length: n }, (_, i) => i);
}

function pairsOf(n: number): [number, number][] {
  return range(n).flatMap((i) =>
    range(n)
      .slice(i + 1)
      .map((j): [number, number] => [i, j]),
  );
}

function triplesOf(n: number): [number, number, number][] {
  return pairsOf(n).flatMap(([i, j]) =>
    range(n)
      .slice(j + 1)
      .map((k): [number, number, number] => [i, j, k]),
  );
}
