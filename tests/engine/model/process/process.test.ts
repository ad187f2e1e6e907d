import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FitInput } from '../../../../engine/model/fit-types.ts';
import type { Point, ScorePrediction } from '../../../../engine/model/posterior-types.ts';
import { AttributeProcess, normalsPerDraw } from '../../../../engine/model/process/attribute-process.ts';
import { cellNoises } from '../../../../engine/model/process/cell-noise.ts';
import { considerStructure, type ProcessAttribute } from '../../../../engine/model/process/fit-process.ts';
import { summariseCells } from '../../../../engine/model/process/process-cells.ts';
import { Kernels } from '../../../../engine/model/process/process-kernel.ts';
import { processPosterior } from '../../../../engine/model/process/process-posterior.ts';
import { amplitudePrior, type Structure } from '../../../../engine/model/process/process-structures.ts';
import { tastedOf } from '../../../../engine/model/tasted.ts';
import { createRandom } from '../../../../engine/numeric/random.ts';
import type { Serving } from '../../../../engine/panel/observations.ts';
import type { BlendSpace } from '../../../../engine/region/blend-space.ts';
import { noteDigits } from '../../../support/digits.ts';

interface Reference {
  low: number[];
  high: number[];
  dose: [number, number];
  mixes: Point[];
  cover: Point[];
  points: Point[];
  scores: number[];
  amplitude: number;
  length: number;
  parts: [number, number, number];
  noise: number;
  mean: number[];
  covariance: number[][];
  logMarginalLikelihood: number;
}

/** scikit-learn's GaussianProcessRegressor with everything held; script and version beside the file. */
const reference = JSON.parse(
  readFileSync(new URL('../../../reference/model/process.json', import.meta.url), 'utf8'),
) as Reference;

const space: BlendSpace = {
  components: ['a', 'b', 'c'].map((id, i) => ({ id, low: reference.low[i]!, high: reference.high[i]! })),
  bounds: [],
  settings: [{ id: 'dose', low: reference.dose[0], high: reference.dose[1], acts: 'each' }],
};
const region = { centroid: [0.45, 0.3, 0.25], low: reference.low, high: reference.high };
const ids = reference.mixes.map((_, i) => `m${i + 1}`);

function near(found: number, expected: number, relative: number, absolute = 0): void {
  if (absolute === 0) noteDigits(found, expected);
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(absolute + relative * Math.abs(expected));
}

describe('a process with everything held', () => {
  const attribute: ProcessAttribute = {
    summary: {
      cells: reference.scores.map((mean, mix) => ({ mix, session: 0, mean, cups: 1 })),
      residual: reference.noise,
      degrees: 8,
      assessor: 0,
      assessors: 1,
      pairProduct: 0,
      pairs: 0,
      leftOver: new Map(),
    },
    noise: { residual: reference.noise, assessorByMix: 0, reaction: 0, assessor: 0, assessors: 1 },
    points: reference.mixes,
    middle: 50,
    unit: 1,
  };
  const kernels = new Kernels(space, region, reference.cover);
  const structure: Structure = {
    kind: 'shares',
    length: reference.length,
    parts: reference.parts,
    session: 0,
  };
  const { components } = considerStructure(kernels, attribute, structure);
  const held = components.find(({ amplitude }) => amplitude === reference.amplitude)!;
  const process = new AttributeProcess(kernels, attribute, [{ ...held, weight: 1 }]);

  it('predicts as scikit-learn does', () => {
    const { mean, standardError, low, high } = process.predict(reference.points, 0);
    reference.points.forEach((_, i) => {
      near(mean[i]!, reference.mean[i]!, 1e-9);
      near(standardError[i]!, Math.sqrt(reference.covariance[i]![i]!), 1e-8);
      near((high[i]! - low[i]!) / 2 / standardError[i]!, 2.306004135204166, 1e-12);
    });
  });

  it('has its marginal likelihood', () => {
    // ours leaves out the constant and carries the prior of the amplitude
    const constant = -0.5 * ids.length * Math.log(2 * Math.PI);
    near(held.logWeight - amplitudePrior(held.amplitude) + constant, reference.logMarginalLikelihood, 1e-9);
  });

  it.each([0, 1, 2])('draws with its means and covariances, %d of the points apart', (apart) => {
    const count = 20_000;
    const random = createRandom(3);
    const asked = { together: reference.points.slice(apart), apart: reference.points.slice(0, apart) };
    const normals = Float64Array.from({ length: count * normalsPerDraw(asked) }, () => random.normal());
    const { scores } = process.draw(asked, { count, normals, random, extra: 0, asIntervals: false });
    const at = (s: number, i: number) => scores[s * reference.points.length + i]!;
    reference.points.forEach((_, i) => {
      let mean = 0;
      for (let s = 0; s < count; s++) mean += at(s, i) / count;
      const deviation = Math.sqrt(reference.covariance[i]![i]!);
      // four standard errors of 20,000 draws
      near(mean, reference.mean[i]!, 0, (4 * deviation) / Math.sqrt(count));
      reference.points.forEach((_, j) => {
        // points apart are each drawn with the others, not with one another
        if (i !== j && Math.max(i, j) < apart) return;
        let product = 0;
        for (let s = 0; s < count; s++)
          product += ((at(s, i) - reference.mean[i]!) * (at(s, j) - reference.mean[j]!)) / count;
        const size = deviation * Math.sqrt(reference.covariance[j]![j]!);
        near(product, reference.covariance[i]![j]!, 0, (6 * size) / Math.sqrt(count));
      });
    });
  });
});

/** A made-up panel without noise: a plane, four assessors with levels of their own, two sessions. */
function cleanServings(scoreOf: (point: Point) => number): Serving[] {
  return reference.mixes.flatMap((point, i) =>
    [-6, -1, 2, 5].map((level, a): Serving => {
      const score = scoreOf(point) + level;
      return {
        mix: ids[i]!,
        assessor: `P${a}`,
        session: i < 5 ? 'one' : 'two',
        replicate: null,
        position: null,
        scores: [score],
      };
    }),
  );
}

function inputOf(servings: Serving[], scale: [number, number] | null = [0, 100]): FitInput {
  const mixes = reference.mixes.map((point, i) => ({ mix: ids[i]!, blend: ids[i]!, ...point }));
  const attributes = [{ id: 'sour', scale, target: null, tolerance: 8, weight: 1 }];
  return { space, region, mixes, servings, attributes, model: 'process' };
}

const plane = ({ shares, settings }: Point) => 20 + 60 * shares[0]! + 20 * shares[2]! + 30 * settings[0]!;

describe('cells', () => {
  it('are the means of the panel even where an assessor is absent', () => {
    const all = cleanServings(plane);
    const some = all.filter(({ mix, assessor }) => !(mix === 'm3' && assessor === 'P0'));
    const tasted = tastedOf(inputOf(some), 0);
    const { cells } = summariseCells(tasted);
    for (const { mix, mean } of cells) near(mean, plane(tasted.mixes[mix]!), 1e-7);
  });

  it('tell noise, and reactions to a mix, from pairs of cups', () => {
    const noises = [1, 2, 3, 4, 5, 6].map((seed) => {
      const random = createRandom(seed);
      const cups = ids.flatMap((mix) =>
        Array.from({ length: 12 }, (_, a) => {
          const reaction = 5 * random.normal();
          return ['1', '2', '3'].map((replicate): Serving => {
            const scores = [50 + 3 * a + reaction + 8 * random.normal()];
            return { mix, assessor: `P${a}`, session: null, replicate, position: null, scores };
          });
        }).flat(),
      );
      return cellNoises([summariseCells(tastedOf(inputOf(cups), 0))], [1])[0]!;
    });
    const mean = (of: (noise: (typeof noises)[number]) => number) =>
      noises.reduce((sum, noise) => sum + of(noise), 0) / noises.length;
    // 6 × 324 cups and 6 × 108 reactions; taking out cells and levels costs the reactions about a fifth
    near(
      mean(({ residual }) => residual),
      64 + 5,
      0.12,
    );
    near(
      mean(({ assessorByMix }) => assessorByMix),
      25 - 5,
      0.3,
    );
  });
});

describe('a process posterior', () => {
  it('follows a plane that was tasted without noise', () => {
    const posterior = processPosterior(inputOf(cleanServings(plane)));
    const [prediction] = posterior.predict(reference.points);
    reference.points.forEach((point, i) => {
      // the prior draws a little toward the middle, and noise is assumed where none shows
      near(prediction!.mean[i]!, plane(point), 0, 2.5);
    });
  });

  it('does not depend on the unit of the scale', () => {
    const servings = cleanServings(plane);
    const small = servings.map((s) => ({ ...s, scores: s.scores.map((v) => (v === null ? null : v / 10)) }));
    const [large] = processPosterior(inputOf(servings)).predict(reference.points);
    const [tenth] = processPosterior(inputOf(small, [0, 10])).predict(reference.points);
    reference.points.forEach((_, i) => {
      near(tenth!.mean[i]! * 10, large!.mean[i]!, 1e-9);
      near(tenth!.standardError[i]! * 10, large!.standardError[i]!, 1e-9);
    });
  });

  it('does not depend on the order of cups, nor on what assessors are called', () => {
    const servings = cleanServings(plane);
    const before = processPosterior(inputOf(servings)).predict(reference.points)[0]!;
    fc.assert(
      fc.property(fc.shuffledSubarray(servings, { minLength: servings.length }), (mixed) => {
        const renamed = mixed.map((s) => ({ ...s, assessor: `taster ${9 - Number(s.assessor[1])}` }));
        const after = processPosterior(inputOf(renamed)).predict(reference.points)[0]!;
        reference.points.forEach((_, i) => {
          near(after.mean[i]!, before.mean[i]!, 1e-7);
        });
      }),
      { seed: 2, numRuns: 5 },
    );
  });

  it('is drawn by seed, with chances that agree with its predictions', () => {
    const posterior = processPosterior(inputOf(cleanServings(plane)), { search: true });
    const draw = (seed: number) => posterior.draws(reference.points, 4000, createRandom(seed));
    expect(draw(1)).toEqual(draw(1));
    expect(draw(1)).not.toEqual(draw(2));
    const { scores } = draw(1);
    const [prediction] = posterior.predict(reference.points);
    reference.points.forEach((_, i) => {
      const own = Float64Array.from({ length: 4000 }, (_, s) => scores[0]![s * reference.points.length + i]!);
      const mean = own.reduce((a, b) => a + b, 0) / own.length;
      const deviation = Math.sqrt(own.reduce((sum, v) => sum + (v - mean) ** 2, 0) / own.length);
      near(mean, prediction!.mean[i]!, 0, 0.1 * prediction!.standardError[i]!);
      // draws are of the surface; a prediction has the four assessors' own reactions on top: a sixth of the noise
      // that is assumed where none shows, ten points of 100
      near(Math.sqrt(deviation ** 2 + 100 / 6 / 4), prediction!.standardError[i]!, 0.06);
    });
  });

  it('draws with the spread of its intervals where it is not for a search', () => {
    const posterior = processPosterior(inputOf(cleanServings(plane)));
    const { scores } = posterior.draws(reference.points, 20_000, createRandom(4));
    const [{ low, high }] = posterior.predict(reference.points) as [ScorePrediction];
    reference.points.forEach((_, i) => {
      const own = Float64Array.from(
        { length: 20_000 },
        (_, s) => scores[0]![s * reference.points.length + i]!,
      ).sort();
      const room = 0.06 * (high[i]! - low[i]!);
      near(own[500]!, low[i]!, 0, room);
      near(own[19_500]!, high[i]!, 0, room);
    });
  });

  it('knows the reference from its own cups, and sessions through it', () => {
    const servings = cleanServings(plane);
    const poured = ['one', 'two'].flatMap((session) =>
      [0, 1, 2, 3].map((a): Serving => {
        const level = [-6, -1, 2, 5][a]!;
        const lift = session === 'two' ? 6 : 0;
        return {
          mix: 'reference',
          assessor: `P${a}`,
          session,
          replicate: null,
          position: null,
          scores: [60 + level + lift],
        };
      }),
    );
    const lifted = servings.map((s) => ({
      ...s,
      scores: s.scores.map((v) => (v === null ? null : v + (s.session === 'two' ? 6 : 0))),
    }));
    const posterior = processPosterior(inputOf([...lifted, ...poured]));
    const { reference: drawn } = posterior.draws(reference.points, 2000, createRandom(1));
    const mean = drawn[0]!.reduce((a, b) => a + b, 0) / 2000;
    // the session's lift of 6 is shared between its two halves, as nobody knows which one was usual
    expect(mean).toBeGreaterThan(59);
    expect(mean).toBeLessThan(67);
    const [prediction] = posterior.predict(reference.points);
    const offsets = reference.points.map((point, i) => prediction!.mean[i]! - plane(point));
    expect(Math.max(...offsets) - Math.min(...offsets)).toBeLessThan(6);
  });

  it('says that nothing is known of an attribute nobody scored', () => {
    const input = inputOf(cleanServings(plane));
    const servings = input.servings.map((s) => ({ ...s, scores: [s.scores[0]!, null] }));
    const attributes = [...input.attributes, { ...input.attributes[0]!, id: 'none' }];
    const posterior = processPosterior({ ...input, servings, attributes });
    expect(posterior.attributes.map(({ status }) => status)).toEqual(['estimated', 'missing']);
    const [, none] = posterior.predict(reference.points);
    expect(none!.standardError[0]).toBeCloseTo(100 / Math.sqrt(12), 9);
  });

  it('stays finite with one taster, one mix, or equal scores', () => {
    const one = cleanServings(plane).filter(({ assessor }) => assessor === 'P1');
    for (const servings of [one, one.slice(0, 1), one.map((s) => ({ ...s, scores: [50] }))]) {
      const [prediction] = processPosterior(inputOf(servings)).predict(reference.points);
      for (const list of [prediction!.mean, prediction!.standardError])
        for (const value of list) expect(Number.isFinite(value)).toBe(true);
      expect(Math.min(...prediction!.standardError)).toBeGreaterThan(0);
    }
  });
});
