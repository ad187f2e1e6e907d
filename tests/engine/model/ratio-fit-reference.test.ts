import { describe, expect, it } from 'vitest';
import { fitRatios } from '../../../engine/model/fit-ratios.ts';
import type { ModelName } from '../../../engine/model/fit-types.ts';
import { expectClose } from '../panel/mixed/closeness.ts';
import { readReference } from '../panel/panel-data.ts';
import { loopInput } from './mixture-data.ts';

interface TestValues {
  f: number;
  numDf: number;
  denDf: number;
  p: number;
}
/** Written by tests/reference/model/ratio-fits.R with lme4, lmerTest and pbkrtest. */
interface Case {
  name: string;
  attribute: string;
  model: ModelName;
  df: string;
  variance: Record<string, number>;
  logLik: number;
  coefficients: { estimate: number; se: number; df: number; p: number }[];
  blending: TestValues;
  effects: { change: number; se: number; df: number; p: number }[];
  lackOfFit: TestValues | null;
  rmse: number;
  q2: number;
  rSquared: number;
}
const { cases } = readReference<{ cases: Case[] }>('model/ratio-fits.json');

function inputOf({ name, attribute, model, df }: Case) {
  const gaps = (i: number) => i % 6 !== 4;
  const first = (i: number) => Math.floor(i / 10) % 2 === 0;
  const keep = name === 'gaps' || name === 'reference' ? gaps : name === 'first' ? first : () => true;
  const reference = name === 'reference' || (name === 'first' && attribute === 'floral') ? 8 : -1;
  const input = loopInput(model, { keep, reference, ids: [attribute] });
  return { ...input, df: df === 'Kenward-Roger' ? ('kenward-roger' as const) : ('satterthwaite' as const) };
}

function expectTest(
  found: { f: number | null; numDf: number | null; denDf: number | null; p: number | null },
  expected: TestValues,
) {
  expectClose(found.f, expected.f, 1e-4);
  expect(found.numDf).toBe(expected.numDf);
  expectClose(found.denDf, expected.denDf, 1e-3);
  expectClose(found.p, expected.p, 3e-3, 1e-12);
}

describe('ratios against lme4, lmerTest and pbkrtest', () => {
  it.each(cases.map((c) => [`${c.name} ${c.attribute} ${c.model} ${c.df}`, c] as const))(
    '%s',
    (_, expected) => {
      const [fit] = fitRatios(inputOf(expected)).attributes;
      const floor = 2e-6 * expected.variance['Residual']!;
      expectClose(fit!.variance.residual, expected.variance['Residual']!, 1e-4);
      expectClose(fit!.variance.assessor, expected.variance['assessor']!, 1e-4, floor);
      if (expected.name !== 'first') {
        expectClose(fit!.variance.assessorByMix, expected.variance['assessor:mix']!, 1e-4, floor);
        expectClose(fit!.variance.session, expected.variance['session']!, 1e-4, floor);
      }
      expectClose(fit!.logRestrictedLikelihood, expected.logLik, 1e-8);
      const all = fit!.reference
        ? [
            ...fit!.coefficients,
            { estimate: fit!.reference.mean, standardError: fit!.reference.standardError, denDf: null },
          ]
        : fit!.coefficients;
      expect(all).toHaveLength(expected.coefficients.length);
      all.forEach((c, j) => {
        const { estimate, se, df } = expected.coefficients[j]!;
        expectClose(c.estimate, estimate, 1e-5, 1e-5);
        expectClose(c.standardError, se, 1e-4);
        if (c.denDf !== null) expectClose(c.denDf, df, 1e-3);
      });
      expectTest(fit!.blending, expected.blending);
      fit!.effects.forEach((e, i) => {
        expectClose(e.change, expected.effects[i]!.change, 1e-5, 1e-5);
        expectClose(e.standardError, expected.effects[i]!.se, 1e-4);
        expectClose(e.p, expected.effects[i]!.p, 3e-3, 1e-12);
      });
      expect(expected.lackOfFit).not.toBeNull();
      expectTest(fit!.lackOfFit, expected.lackOfFit!);
      expectClose(fit!.leaveOneMixOut.rmse, expected.rmse, 1e-4);
      expectClose(fit!.leaveOneMixOut.q2, expected.q2, 1e-4);
      expectClose(fit!.rSquared, expected.rSquared, 1e-5);
    },
  );
});
