import type { BesideColumns, Cups } from './cups.ts';
import { joinColumns, mixColumns } from './mix-columns.ts';
import { estimate } from './mixed/estimate.ts';
import { fitMixed } from './mixed/fit.ts';
import type { Serving } from './observations.ts';
import { ownColumns } from './own-columns.ts';
import { precedingCups } from './preceding-cups.ts';
import { randomPartOf } from './random-effects.ts';

/** A warning is given below this; two are looked for in each attribute. Common practice, no published source. */
const SHOWS = 0.01;

/**
 * Whether the first cup is scored differently, and whether a cup is scored differently after a strong one: both are
 * added to the model with mix as a factor (covariates: first cup or not; mean of the preceding cup's mix about the
 * overall mean). Empty where positions are not recorded, or where nothing shows.
 */
export function servingEffects(servings: readonly Serving[], cups: Cups, means: ArrayLike<number>): string[] {
  const known = [...cups.y.keys()].filter((i) => servings[cups.rows[i]!]!.position !== null);
  if (known.length < cups.y.length || cups.y.length < cups.mixes.length + 4) return [];
  const covariates = covariatesOf(servings, cups, means);
  const kept = ownColumns(cups, covariates);
  const beside = besideMixes(
    kept.map((c) => covariates[c]!),
    cups.y.length,
  );
  const p = cups.mixes.length + kept.length;
  if (kept.length === 0 || p >= cups.y.length) return [];
  const fit = fitMixed({
    y: cups.y,
    fixed: joinColumns(mixColumns(cups), beside, cups.y.length),
    names: [...cups.mixes, ...beside.names],
    random: randomPartOf(cups).factors,
  });
  const look = (covariate: number) => {
    const at = kept.indexOf(covariate);
    if (at < 0) return null;
    const weights = new Float64Array(p);
    weights[cups.mixes.length + at] = 1;
    const { estimate: value, p: chance } = estimate(fit, weights);
    return chance !== null && chance < SHOWS ? value : null;
  };
  return sentences(look(0), look(1));
}

function sentences(first: number | null, carried: number | null): string[] {
  const out: string[] = [];
  if (first !== null)
    out.push(
      `the first cup of a sitting is scored about ${figure(Math.abs(first))} ${first > 0 ? 'higher' : 'lower'} ` +
        'than the same mix later on: pour a warm-up first, or rotate the orders',
    );
  if (carried !== null)
    out.push(
      `a cup is scored ${carried > 0 ? 'higher' : 'lower'} after a strong one ` +
        `(${figure(Math.abs(carried) * 10)} for 10 more in the cup before): rest longer between cups`,
    );
  return out;
}

/** First cup of a sitting or not; mean of the preceding cup's mix about the overall mean. */
function covariatesOf(
  servings: readonly Serving[],
  cups: Cups,
  means: ArrayLike<number>,
): [Float64Array, Float64Array] {
  const before = precedingCups(servings);
  const place = new Map(cups.mixes.map((mix, m) => [mix, m]));
  const centre = Array.from(means).reduce((sum, v) => sum + v, 0) / means.length;
  const first = Float64Array.from(cups.rows, (row) => Number(servings[row]!.position === 1));
  const carried = Float64Array.from(cups.rows, (row) => {
    const m = place.get(before[row]?.mix ?? '');
    return m === undefined ? 0 : means[m]! - centre;
  });
  return [first, carried];
}

function besideMixes(columns: readonly Float64Array[], n: number): BesideColumns {
  const values = new Float64Array(n * columns.length);
  columns.forEach((column, c) => {
    column.forEach((value, i) => {
      values[i * columns.length + c] = value;
    });
  });
  return { names: columns.map((_, c) => `covariate ${c + 1}`), values };
}

function figure(value: number): string {
  return String(Number(value.toPrecision(2)));
}
