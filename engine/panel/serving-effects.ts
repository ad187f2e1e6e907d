import { independentColumns } from '../numeric/least-squares.ts';
import type { Cups } from './cups.ts';
import { mixColumns } from './mix-columns.ts';
import { estimate } from './mixed/estimate.ts';
import { fitMixed } from './mixed/fit.ts';
import type { Serving } from './observations.ts';
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
  const extra = covariates(servings, cups, means);
  const p = cups.mixes.length + 2;
  const full = joined(mixColumns(cups), extra, cups.mixes.length);
  const kept = independentColumns(full, cups.y.length, p);
  const fixed = Float64Array.from({ length: cups.y.length * kept.length }, (_, at) => {
    const [i, j] = [Math.floor(at / kept.length), at % kept.length];
    return full[i * p + kept[j]!]!;
  });
  if (kept.length >= cups.y.length) return [];
  const fit = fitMixed({
    y: cups.y,
    fixed,
    names: kept.map(String),
    random: randomPartOf(cups).factors,
  });
  const look = (column: number) => {
    const at = kept.indexOf(column);
    if (at < 0) return null;
    const { estimate: value, p: chance } = estimate(
      fit,
      kept.map((_, j) => Number(j === at)),
    );
    return chance !== null && chance < SHOWS ? value : null;
  };
  return sentences(look(cups.mixes.length), look(cups.mixes.length + 1));
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

function covariates(servings: readonly Serving[], cups: Cups, means: ArrayLike<number>): Float64Array {
  const before = precedingCups(servings);
  const place = new Map(cups.mixes.map((mix, m) => [mix, m]));
  const centre = Array.from(means).reduce((sum, v) => sum + v, 0) / means.length;
  const out = new Float64Array(2 * cups.y.length);
  cups.rows.forEach((row, i) => {
    out[2 * i] = Number(servings[row]!.position === 1);
    const m = place.get(before[row]?.mix ?? '');
    out[2 * i + 1] = m === undefined ? 0 : means[m]! - centre;
  });
  return out;
}

function joined(mixes: Float64Array, extra: Float64Array, m: number): Float64Array {
  const n = extra.length / 2;
  const out = new Float64Array(n * (m + 2));
  for (let i = 0; i < n; i++) {
    out.set(mixes.subarray(i * m, (i + 1) * m), i * (m + 2));
    out.set(extra.subarray(2 * i, 2 * i + 2), i * (m + 2) + m);
  }
  return out;
}

function figure(value: number): string {
  return String(Number(value.toPrecision(2)));
}
