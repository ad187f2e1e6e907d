import { EngineError } from '../../errors.ts';
import { chiSquareUpper } from '../../numeric/chi-square.ts';
import { bilinear, inverseOfPositive } from '../../numeric/dense.ts';
import { normalUpper } from '../../numeric/normal.ts';

/** How often each of two items won over the other; a tie counts half a win to each. */
export interface Contest {
  a: number;
  b: number;
  winsA: number;
  winsB: number;
  ties?: number;
}

export interface PairedStrength {
  status: 'estimated' | 'not-estimable';
  reason: string | null;
  /** Coefficients on the log-odds scale; without a design, each item's strength minus that of item 0. */
  estimates: number[] | null;
  /** Covariance of the estimates, row by row. */
  covariance: Float64Array | null;
  /** Residual deviance, its degrees of freedom and the p of lack of fit (null without degrees of freedom). */
  deviance: number | null;
  df: number;
  p: number | null;
  logLikelihood: number | null;
}

interface Row {
  /** Difference of the two items' rows of the design. */
  x: Float64Array;
  wins: number;
  trials: number;
}

const MOST_STEPS = 60;

/**
 * Strengths from paired comparisons (Bradley and Terry 1952, Biometrika 39, 324-345): log odds that a wins over b =
 * s_a - s_b, by maximum likelihood; or, with a design, s = design × coefficients (Springall 1973, Appl. Stat. 22,
 * 59-68). A tie counts half a win to each side.
 *
 * @param items number of items
 * @param design items × columns without a constant; absent: one strength an item, item 0 being 0
 * @returns `not-estimable` with a reason where some items never met, or some always won over all others
 */
export function pairedStrength(
  contests: readonly Contest[],
  items: number,
  design?: readonly (readonly number[])[],
): PairedStrength {
  const rows = rowsOf(contests, items, design);
  const size = rows[0]!.x.length;
  const used = rows.filter((r) => r.trials > 0);
  const df = used.length - size;
  const fail = (reason: string): PairedStrength => ({
    status: 'not-estimable',
    reason,
    estimates: null,
    covariance: null,
    deviance: null,
    df,
    p: null,
    logLikelihood: null,
  });
  if (!design && !isConnected(contests, items))
    return fail('some items never met the others, or won or lost every time against all of them');
  const found = maximise(used, size);
  if (!found) return fail('the items met too seldom, or too one-sidedly, to tell the coefficients');
  const deviance = devianceOf(used, found.beta);
  return {
    status: 'estimated',
    reason: null,
    estimates: design ? [...found.beta] : [0, ...found.beta],
    covariance: design ? found.covariance : withReference(found.covariance, size),
    deviance,
    df,
    p: df > 0 ? chiSquareUpper(deviance, df) : null,
    logLikelihood: used.reduce((sum, r) => sum + logLikelihoodOf(r, predictor(r, found.beta)), 0),
  };
}

/** The difference of two items' strengths (without a design) with its standard error and two-sided p (normal). */
export function strengthDifference(fit: PairedStrength, a: number, b: number) {
  if (!fit.estimates || !fit.covariance) return { difference: null, standardError: null, p: null };
  const contrast = fit.estimates.map((_, i) => (i === a ? 1 : 0) - (i === b ? 1 : 0));
  const difference = fit.estimates[a]! - fit.estimates[b]!;
  const standardError = Math.sqrt(bilinear(contrast, fit.covariance, contrast));
  const p = standardError > 0 ? 2 * normalUpper(Math.abs(difference) / standardError) : null;
  return { difference, standardError, p };
}

function rowsOf(contests: readonly Contest[], items: number, design?: readonly (readonly number[])[]): Row[] {
  const columns = design ? (design[0]?.length ?? 0) : items - 1;
  if (items < 2 || columns < 1 || contests.length === 0 || (design && design.length !== items))
    throw new EngineError(
      'bad-argument',
      'design',
      design?.length,
      `${items} items with a row each, some contests`,
    );
  const of = (item: number, c: number) => (design ? design[item]![c]! : item === c + 1 ? 1 : 0);
  return contests.map(({ a, b, winsA, winsB, ties = 0 }, i) => {
    if (a === b || ![a, b].every((v) => Number.isInteger(v) && v >= 0 && v < items))
      throw new EngineError(
        'bad-argument',
        `contests[${i}]`,
        [a, b],
        `two different items in 0..${items - 1}`,
      );
    if (![winsA, winsB, ties].every((v) => v >= 0 && Number.isFinite(v)))
      throw new EngineError('bad-argument', `contests[${i}]`, [winsA, winsB, ties], 'counts of 0 or more');
    const x = Float64Array.from({ length: columns }, (_, c) => of(a, c) - of(b, c));
    return { x, wins: winsA + ties / 2, trials: winsA + winsB + ties };
  });
}

/** Ford's condition: in every split of the items some item of each part won against one of the other. */
function isConnected(contests: readonly Contest[], items: number): boolean {
  const reach = (forward: boolean): number => {
    const seen = new Set([0]);
    for (const item of seen)
      for (const { a, b, winsA, winsB, ties = 0 } of contests) {
        if (a === item && (forward ? winsA : winsB) + ties > 0) seen.add(b);
        if (b === item && (forward ? winsB : winsA) + ties > 0) seen.add(a);
      }
    return seen.size;
  };
  return reach(true) === items && reach(false) === items;
}

/** Newton's method on the concave log likelihood, steps halved until it rises. */
function maximise(
  rows: readonly Row[],
  size: number,
): { beta: Float64Array; covariance: Float64Array } | null {
  let beta = new Float64Array(size);
  let value = total(rows, beta);
  for (let step = 0; step < MOST_STEPS; step++) {
    const { score, covariance } = scoreAndCovariance(rows, beta);
    if (!covariance) return null;
    const move = beta.map((_, i) => sumOver(size, (j) => covariance[i * size + j]! * score[j]!));
    const rise = sumOver(size, (j) => move[j]! * score[j]!);
    if (rise < 1e-18) return { beta, covariance };
    let length = 1;
    let next = beta.map((v, i) => v + move[i]!);
    while (length > 1e-9 && !(total(rows, next) >= value - 1e-12 * Math.abs(value))) {
      length /= 2;
      next = beta.map((v, i) => v + length * move[i]!);
    }
    if (next.some((v) => !(Math.abs(v) < 1e6))) return null;
    beta = next;
    value = total(rows, beta);
  }
  return null;
}

function scoreAndCovariance(rows: readonly Row[], beta: Float64Array) {
  const size = beta.length;
  const score = new Float64Array(size);
  const information = new Float64Array(size * size);
  for (const row of rows) {
    const share = 1 / (1 + Math.exp(-predictor(row, beta)));
    const weight = row.trials * share * (1 - share);
    for (let i = 0; i < size; i++) {
      score[i]! += (row.wins - row.trials * share) * row.x[i]!;
      for (let j = 0; j < size; j++) information[i * size + j]! += weight * row.x[i]! * row.x[j]!;
    }
  }
  return { score, covariance: inverseOfPositive(information, size, 1e-10) };
}

function predictor(row: Row, beta: Float64Array): number {
  return sumOver(beta.length, (j) => row.x[j]! * beta[j]!);
}

function sumOver(length: number, term: (j: number) => number): number {
  let sum = 0;
  for (let j = 0; j < length; j++) sum += term(j);
  return sum;
}

function total(rows: readonly Row[], beta: Float64Array): number {
  return rows.reduce((sum, row) => sum + logLikelihoodOf(row, predictor(row, beta)), 0);
}

/** Without the binomial constant. */
function logLikelihoodOf({ wins, trials }: Row, eta: number): number {
  const logShare = eta > 0 ? -Math.log1p(Math.exp(-eta)) : eta - Math.log1p(Math.exp(eta));
  return wins * logShare + (trials - wins) * (logShare - eta);
}

function devianceOf(rows: readonly Row[], beta: Float64Array): number {
  return rows.reduce((sum, row) => {
    const { wins, trials } = row;
    const saturated = xLogX(wins) + xLogX(trials - wins) - xLogX(trials);
    return sum + 2 * (saturated - logLikelihoodOf(row, predictor(row, beta)));
  }, 0);
}

const xLogX = (x: number) => (x > 0 ? x * Math.log(x) : 0);

/** Adds the row and column of item 0, whose strength is fixed. */
function withReference(covariance: Float64Array, size: number): Float64Array {
  const out = new Float64Array((size + 1) ** 2);
  for (let i = 0; i < size; i++)
    for (let j = 0; j < size; j++) out[(i + 1) * (size + 1) + j + 1] = covariance[i * size + j]!;
  return out;
}
