import { describe, expect, it } from 'vitest';
import type { Serving } from '../../../engine/panel/observations.ts';
import { readPanel } from '../../../engine/panel/read-panel.ts';
import { noteDigits } from '../../support/digits.ts';
import { attribute, readReference, servingsOf, type Table } from './panel-data.ts';

/** Written by tests/reference/panel/panel-readings.R with lme4, lmerTest, emmeans and pbkrtest. */
interface Case {
  name: string;
  data: 'cream' | 'loop';
  attribute: string;
  random: 'plain' | 'session' | 'alone';
  df: 'satterthwaite' | 'kenward-roger';
  variance: Record<string, number>;
  logLik: number;
  test: { f: number; numDf: number; denDf: number; p: number };
  means: { mix: string; mean: number; se: number; df: number }[];
  pairs: { pair: string; difference: number; se: number; df: number; p: number }[];
}
const reference = readReference<{
  cases: Case[];
  own: { assessor: number; f: number; p: number; rms: number }[];
}>('panel/panel-readings.json');
const cream = readReference<Table & { published: Record<string, Record<string, number>> }>(
  'panel/cream-cheese-two.json',
);
const loop = readReference<Table>('model/flavour-loop.json');

function servings({ data, random, name, attribute: id }: Case): Serving[] {
  const session = random === 'session' ? (data === 'cream' ? 'session' : 'replicate') : null;
  const all =
    data === 'cream'
      ? servingsOf(cream, [id], { session })
      : servingsOf(loop, [id], { mix: 'variant', session });
  const gap = /gaps(\d)\.(\d)/.exec(name);
  if (gap) return all.filter((_, i) => i % Number(gap[1]) !== Number(gap[2]));
  return name.includes('first') ? all.filter((s) => s.replicate === '1') : all;
}

/** Relative closeness with an absolute floor. */
function near(found: number | null, expected: number, relative: number, floor = 0): void {
  expect(found).not.toBeNull();
  noteDigits(found, expected, floor);
  expect(Math.abs(found! - expected)).toBeLessThanOrEqual(relative * Math.abs(expected) + floor);
}

describe('a panel against lme4, lmerTest, emmeans and pbkrtest', () => {
  it.each(reference.cases.map((c) => [`${c.name} ${c.attribute} ${c.df}`, c] as const))(
    '%s',
    (_, expected) => {
      const [found] = readPanel({
        servings: servings(expected),
        attributes: [attribute(expected.attribute)],
        df: expected.df,
      }).attributes;
      const floor = 1e-6 * expected.variance['Residual']!;
      near(found!.variance.residual, expected.variance['Residual']!, 1e-4, floor);
      near(found!.variance.assessor, expected.variance['assessor']!, 1e-4, floor);
      if (expected.random === 'alone') expect(found!.variance.assessorByMix).toBeNull();
      else near(found!.variance.assessorByMix, expected.variance['assessor:mix']!, 1e-4, floor);
      if (expected.random !== 'session') expect(found!.variance.session).toBeNull();
      else near(found!.variance.session, expected.variance['session']!, 1e-4, floor);
      near(found!.logRestrictedLikelihood, expected.logLik, 1e-8);
      near(found!.mixTest.f, expected.test.f, 1e-5);
      expect(found!.mixTest.numDf).toBe(expected.test.numDf);
      near(found!.mixTest.denDf, expected.test.denDf, 1e-3);
      near(found!.mixTest.p, expected.test.p, 1e-3);
      for (const mean of expected.means) {
        const own = found!.means.find((m) => m.mix === mean.mix)!;
        near(own.mean, mean.mean, 1e-5);
        near(own.standardError, mean.se, 1e-4);
        near(own.denDf, mean.df, 1e-3);
      }
      const wanted = new Map(expected.pairs.map((p) => [p.pair.replaceAll(/[()]/g, ''), p]));
      let compared = 0;
      for (const d of found!.differences) {
        const straight = wanted.get(`${d.a} - ${d.b}`);
        const pair = straight ?? wanted.get(`${d.b} - ${d.a}`)!;
        near(d.difference, straight ? pair.difference : -pair.difference, 1e-5, 1e-7);
        near(d.standardError, pair.se, 1e-4);
        near(d.denDf, pair.df, 1e-3);
        // R's own studentized range is good to about 1e-7 here; degrees of freedom move p by up to 1e-5.
        near(d.p, pair.p, 1e-4, 1e-6);
        compared++;
      }
      expect(compared).toBe(expected.pairs.length);
    },
  );

  it('gives the published mixed F of creaminess and not the fixed one of cream smell', () => {
    const read = readPanel({
      servings: servingsOf(cream, ['creamSmell', 'creaminess']),
      attributes: [attribute('creamSmell'), attribute('creaminess')],
    }).attributes;
    near(read[1]!.mixTest.f, cream.published['M-Creaminess']!['F']!, 1e-5);
    near(read[1]!.mixTest.denDf, cream.published['M-Creaminess']!['dendf']!, 1e-4);
    expect(read[0]!.mixTest.p).toBeGreaterThan(0.1);
    expect(cream.published['N-Cream']!['p_fixed']).toBeLessThan(0.05);
  });

  it('tests each assessor in the own scores as analysis of variance does', () => {
    const [read] = readPanel({
      servings: servingsOf(loop, ['cooked'], { mix: 'variant' }),
      attributes: [attribute('cooked')],
    }).attributes;
    for (const own of reference.own) {
      const found = read!.assessors.find((a) => a.assessor === `P${own.assessor}`)!;
      near(found.discrimination.f, own.f, 1e-10);
      near(found.discrimination.p, own.p, 1e-9);
      near(found.repeatability, own.rms, 1e-12);
    }
    expect(reference.own).toHaveLength(6);
  });
});
