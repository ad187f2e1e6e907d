import { EngineError } from '../errors.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import { logRatioTerms } from './log-ratio-terms.ts';
import { modelTerms, type PlannedModel, SCHEFFE_MODELS, type ScheffeModel, type Term } from './terms.ts';

/** Which terms a plan is for, and which of them the mixes alone must settle. */
export interface ModelChoice {
  model: PlannedModel;
  terms: Term[];
  /** One a term; the others get prior information. */
  primary: boolean[];
}

interface Request {
  space: BlendSpace;
  /** Lowest and highest share of each component in the region. */
  widths: { low: readonly number[]; high: readonly number[] };
  model?: PlannedModel | undefined;
  /** Mixes planned and weighed already. */
  mixes: number;
  /** Those of them that are not fresh weighings of others. */
  distinct: number;
  /** Bottles: what terms of the blend alone have to be told from; unbounded where each mix has one of its own. */
  bottles: number;
  /** Number of terms that are not aliased over the region. */
  countOf: (terms: readonly Term[]) => number;
}

/**
 * Without a model: the richest of linear, quadratic and special cubic whose terms + 2 do not exceed the mixes,
 * else linear with prior information on the terms of the quadratic. With a model and fewer mixes than terms: that
 * model, with prior information on what goes beyond the richest model that the mixes can carry. Log ratios come with
 * squares and products where the mixes are at least one and a half times as many as its terms would then be.
 *
 * @throws EngineError `too-few-mixes` below the number of components.
 */
export function chooseModel(request: Request): ModelChoice {
  const { space, model, mixes, distinct, bottles, countOf } = request;
  const q = space.components.length;
  if (bottles < q)
    throw new EngineError('too-few-mixes', 'mixes', mixes, `enough for ${q} bottles, one for each component`);
  if (mixes < q || distinct < Math.min(q, countOf(modelTerms(space, 'linear').slice(0, q))))
    throw new EngineError(
      'too-few-mixes',
      'mixes',
      mixes,
      `at least ${q}, one for each component (repeats not counted)`,
    );
  if (model === 'log-ratio') return logRatioChoice(request);
  if (model !== undefined) {
    const terms = modelTerms(space, model);
    if (carries(request, terms)) return { model, terms, primary: terms.map(() => true) };
    return withPrior(request, model, terms);
  }
  const fits = (name: ScheffeModel): boolean => {
    const terms = modelTerms(space, name);
    return countOf(terms) + 2 <= mixes && carries(request, terms);
  };
  const richest = (['special-cubic', 'quadratic', 'linear'] as const).find(fits);
  if (richest !== undefined) {
    const terms = modelTerms(space, richest);
    return { model: richest, terms, primary: terms.map(() => true) };
  }
  return withPrior(request, 'linear', modelTerms(space, 'quadratic'));
}

/** Whether the mixes can tell these terms, and their bottles those of the blend alone. */
function carries({ distinct, bottles, countOf }: Request, terms: readonly Term[]): boolean {
  if (countOf(terms) > distinct) return false;
  return bottles >= distinct || countOf(terms.filter(({ settings }) => settings.length === 0)) <= bottles;
}

function logRatioChoice(request: Request): ModelChoice {
  const { space, widths, mixes } = request;
  const full = logRatioTerms(space, widths, 2);
  const terms = mixes >= 1.5 * full.length ? full : logRatioTerms(space, widths, 1);
  const all = carries(request, terms);
  return { model: 'log-ratio', terms, primary: terms.map(({ settings }) => all || settings.length === 0) };
}

/** Terms beyond what the mixes can carry are left to prior information. */
function withPrior(request: Request, model: PlannedModel, terms: Term[]): ModelChoice {
  const { space } = request;
  const carried = [...SCHEFFE_MODELS]
    .slice(0, SCHEFFE_MODELS.indexOf(model as ScheffeModel) + 1)
    .reverse()
    .map((name) => modelTerms(space, name))
    .find((list) => list.length < terms.length && carries(request, list));
  const names = new Set(
    (carried ?? modelTerms(space, 'linear').slice(0, space.components.length)).map((t) => t.name),
  );
  return { model, terms, primary: terms.map(({ name }) => names.has(name)) };
}
