import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitRatios } from '../../../engine/model/fit-ratios.ts';
import type { FitInput, MixInfluence, ModelName } from '../../../engine/model/fit-types.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import { expectClose } from '../panel/mixed/closeness.ts';
import { attribute, readReference } from '../panel/panel-data.ts';
import { cup, latticeInput, loop, loopInput, mixOf, spaceOf, wholeRegion } from './mixture-data.ts';

/** Written by tests/reference/model/influence.R with influence.measures and lme4. */
interface Case {
  name: string;
  attribute: string;
  model: ModelName;
  mixes: { variant: number; leverage: number; distance: number; shift: number; moves: number }[];
}
const { cases } = readReference<{ cases: Case[] }>('model/influence.json');

const influenceIn = (input: FitInput): MixInfluence[] => fitRatios(input).attributes[0]!.influence;

function inputOf({ name, attribute: id, model }: Case): FitInput {
  const at = (column: string) => loop.columns.indexOf(column);
  const first = (i: number) => loop.rows[i]![at('assessor')] === 1 && loop.rows[i]![at('replicate')] === 1;
  const gaps = (i: number) => i % 6 !== 4;
  const keep = name === 'single' ? first : name === 'full' ? () => true : gaps;
  return loopInput(model, { keep, reference: name === 'reference' ? 8 : -1, ids: [id] });
}

describe('what a surface owes to each mix', () => {
  it.each(cases.map((c) => [`${c.name} ${c.attribute} ${c.model}`, c] as const))(
    'against R: %s',
    (_, expected) => {
      const found = influenceIn(inputOf(expected));
      expect(found.map(({ mix }) => mix)).toEqual(expected.mixes.map(({ variant }) => `v${variant}`));
      // least squares to rounding; with variances of lme4 as near as the two optima lie together
      const tolerance = expected.name === 'single' ? 1e-9 : 1e-4;
      found.forEach((mix, i) => {
        const { leverage, distance, shift, moves } = expected.mixes[i]!;
        expectClose(mix.leverage, leverage, tolerance);
        expectClose(mix.distance, distance, tolerance, tolerance);
        expectClose(mix.shift, shift, tolerance, tolerance);
        expectClose(mix.moves, moves, tolerance, tolerance);
      });
    },
  );

  it('by the closed forms of least squares: h, e and s tell all of it', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 5, max: 12 }), (seed, count) => {
        const random = createRandom(seed, 'influence');
        const mixes = Array.from({ length: count }, (_, m) => {
          const parts = [1, 2, 3].map(() => 0.05 + random.uniform());
          const all = parts[0]! + parts[1]! + parts[2]!;
          return mixOf(
            `m${m + 1}`,
            parts.map((part) => part / all),
          );
        });
        const scores = mixes.map(({ shares }) => 20 + 50 * shares[0]! + 5 * random.normal());
        const input: FitInput = {
          ...{ space: spaceOf(3), region: wholeRegion(3), mixes, model: 'linear' },
          servings: mixes.map(({ mix }, m) => cup(mix, 'P1', scores[m]!)),
          attributes: [attribute('y', { scale: null })],
        };
        const [fit] = fitRatios(input).attributes;
        const beta = fit!.coefficients.map(({ estimate }) => estimate);
        const s = Math.sqrt(fit!.variance.residual!);
        let leverages = 0;
        fit!.influence.forEach(({ leverage, moves, shift, distance }, m) => {
          const h = leverage!;
          leverages += h;
          // left out, its prediction would be ten cups' standard deviations wide: h / (1 - h) > 100
          expect(moves === null).toBe(h > 100 / 101);
          if (moves === null) return;
          const e = scores[m]! - mixes[m]!.shares.reduce((sum, share, j) => sum + share * beta[j]!, 0);
          // Belsley, Kuh and Welsch 1980, chapter 2, with s of the whole fit; Cook 1977
          expectClose(moves, (h * e) / (1 - h), 1e-6, 1e-9);
          expectClose(shift, (e * Math.sqrt(h)) / (s * (1 - h)), 1e-6, 1e-9);
          expectClose(distance, (e * e * h) / (3 * s * s * (1 - h) ** 2), 1e-6, 1e-9);
        });
        // the hat matrix has the number of terms for its trace
        expectClose(leverages, 3, 1e-9);
      }),
      { seed: 8, numRuns: 40 },
    );
  });

  it('says that a mix which alone tells a term is all that is known there', () => {
    const corner = influenceIn(latticeInput('yarn', 'quadratic'))[0]!;
    expect(corner).toMatchObject({ leverage: 1, moves: null, shift: null, distance: null });
    expect(corner.reason).toMatch(/^leaving out m1/);
  });

  it('has nothing to say where nothing was fitted', () => {
    expect(influenceIn({ ...latticeInput('yarn', 'quadratic'), servings: [] })).toEqual([]);
  });

  it('does not hang on the order of cups, nor on the unit of the scores', () => {
    const plain = loopInput('quadratic', { ids: ['citrus'] });
    const turned = {
      ...plain,
      servings: [...plain.servings]
        .reverse()
        .map((one) => ({ ...one, scores: one.scores.map((v) => 10 * v!) })),
    };
    influenceIn(turned).forEach((mix, m) => {
      const own = influenceIn(plain)[m]!;
      expectClose(mix.moves, 10 * own.moves!, 1e-6, 1e-9);
      expectClose(mix.shift, own.shift!, 1e-6, 1e-9);
      expectClose(mix.leverage, own.leverage!, 1e-6);
      expectClose(mix.distance, own.distance!, 1e-6, 1e-9);
    });
  });
});
