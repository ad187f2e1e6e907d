import { mean } from 'simple-statistics';
import { fisherUpper } from '../numeric/fisher.ts';
import { noTest, type Test } from './reading-types.ts';

/** Scatter within groups and the test that the groups have one mean. */
export interface OneWay {
  test: Test;
  /** Root mean square within groups; null where no group has two values. */
  within: number | null;
}

/**
 * One-way analysis of variance of values in groups: F = mean square between over mean square within.
 * @param group level of each value, any whole numbers
 */
export function oneWay(values: readonly number[], group: readonly number[]): OneWay {
  const members = new Map<number, number[]>();
  values.forEach((value, i) => {
    members.set(group[i]!, [...(members.get(group[i]!) ?? []), value]);
  });
  const all = mean([...values]);
  const groups = [...members.values()].map((v) => ({
    n: v.length,
    mean: mean([...v]),
    inside: squaresAbout(v),
  }));
  const denDf = values.length - groups.length;
  const numDf = groups.length - 1;
  const inside = groups.reduce((sum, g) => sum + g.inside, 0);
  const between = groups.reduce((sum, g) => sum + g.n * (g.mean - all) ** 2, 0);
  const within = denDf > 0 ? Math.sqrt(inside / denDf) : null;
  if (numDf < 1) return { within, test: noTest('nothing to compare') };
  if (within === null) return { within, test: noTest('no mix was scored twice') };
  if (!(inside > 1e-24 * values.reduce((sum, v) => sum + v * v, 0)))
    return { within, test: noTest('repeated scores do not scatter') };
  const f = between / numDf / (inside / denDf);
  return { within, test: { f, numDf, denDf, p: fisherUpper(f, numDf, denDf) } };
}

function squaresAbout(values: readonly number[]): number {
  const centre = mean([...values]);
  return values.reduce((sum, v) => sum + (v - centre) ** 2, 0);
}
