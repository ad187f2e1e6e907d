import { describe, expect, it } from 'vitest';
import { inventPanel } from '../../../engine/aim/rehearsal/invented-panel.ts';
import { DIFFICULTIES, inventTruth } from '../../../engine/aim/rehearsal/invented-truth.ts';
import { rehearse } from '../../../engine/aim/rehearsal/rehearse.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { Attribute, Target } from '../../../engine/panel/observations.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { samplePlaces } from '../../../engine/region/sampling.ts';
import { loadSolver } from '../../../trials/solver.ts';
import { rehearsalInput } from './rehearsal-input.ts';

const solver = await loadSolver();
const targets: Target[] = [
  { kind: 'value', value: 62 },
  { kind: 'range', low: 40, high: 60 },
  { kind: 'reference' },
  { kind: 'most' },
  { kind: 'least' },
];
const attributes = targets.map(
  (target, k): Attribute => ({ id: `a${k}`, scale: [0, 100], target, tolerance: 8, weight: 1 }),
);

describe('an invented truth', () => {
  const region = describeRegion(rehearsalInput({}).space, solver);
  const cover = samplePlaces(region, createRandom(1, 'cover'), 150);

  it.each(DIFFICULTIES)(
    'that is %s meets every target at its hidden ratio, and moves elsewhere',
    (difficulty) => {
      for (let seed = 1; seed <= 10; seed++) {
        const { truth, hidden } = inventTruth(attributes, {
          ...{ region, cover, difficulty },
          random: createRandom(seed),
        });
        const met = truth(hidden);
        const everywhere = cover.map(truth);
        expect(met[0]).toBeCloseTo(62, 9);
        expect(met[1]).toBeGreaterThanOrEqual(40 - 1e-9);
        expect(met[1]).toBeLessThanOrEqual(60 + 1e-9);
        expect(Math.max(...everywhere.map((row) => row[3]!))).toBeCloseTo(met[3]!, 9);
        expect(Math.min(...everywhere.map((row) => row[4]!))).toBeCloseTo(met[4]!, 9);
        attributes.forEach((_, k) => {
          const own = everywhere.map((row) => row[k]!);
          expect(Math.max(...own) - Math.min(...own)).toBeGreaterThan(10);
          for (const score of own) expect(score >= 0 && score <= 100).toBe(true);
        });
      }
    },
  );

  it('that is easy is exactly straight between any two ratios, scales allowing', () => {
    const one = [{ ...attributes[0]!, scale: null }];
    const { truth } = inventTruth(one, { region, cover, difficulty: 'easy', random: createRandom(4) });
    const [a, b] = [cover[3]!, cover[90]!];
    const middle = { shares: a.shares.map((share, i) => (share + b.shares[i]!) / 2), settings: [] };
    expect(truth(middle)[0]).toBeCloseTo((truth(a)[0]! + truth(b)[0]!) / 2, 9);
  });
});

describe('an invented panel', () => {
  it('gives the truth on average, with scatter as asked', () => {
    const one = [{ ...attributes[0]!, scale: null }];
    const scattered = (cup: number) =>
      inventPanel(one, {
        ...{ assessors: 5, noise: [{ cup, assessorByMix: 0 }], pivots: [62] },
        random: createRandom(2),
      });
    const cups = [
      { mix: 'm1', scores: [62] },
      { mix: 'm2', scores: [50] },
    ];
    const still = scattered(0).taste(cups, 's', 2);
    expect(still).toHaveLength(20);
    for (const { mix, scores } of cups) {
      const own = still.filter((serving) => serving.mix === mix).map((serving) => serving.scores[0]!);
      expect(own.reduce((a, b) => a + b, 0) / own.length).toBeCloseTo(scores[0]!, 9);
    }
    // one cup after another of the same taster and mix: 4000 differences of two normals with deviation 6
    const noisy = scattered(6).taste([cups[0]!], 's', 1600);
    const first = noisy.filter(({ assessor }) => assessor === 'T1').map(({ scores }) => scores[0]!);
    const steps = first.slice(1).map((score, i) => (score - first[i]!) ** 2);
    const deviation = Math.sqrt(steps.reduce((a, b) => a + b, 0) / steps.length / 2);
    expect(Math.abs(deviation - 6)).toBeLessThan(0.5);
  });
});

describe('a rehearsal', () => {
  const easy = rehearsalInput({ difficulty: 'easy', cup: 0, truths: 4, rounds: 1 });

  it('always finds a straight truth without noise, says the same for the same seed, and can be stopped', () => {
    const said: string[] = [];
    const result = rehearse(easy, { solver }, { progress: (_, doing) => said.push(doing) });
    expect(result.stages.map(({ found }) => found)).toEqual([4, 4]);
    expect(result.stages.map(({ mixes }) => mixes)).toEqual([8, 11]);
    // Clopper and Pearson for 4 of 4: 0.025^(1/4)
    expect(result.stages[0]!.interval[0]).toBeCloseTo(0.025 ** 0.25, 9);
    expect(result.stages[0]!.standardError).toBe(0);
    expect(said.at(-1)).toBe('tasting invented truth 4 of 4');
    const again = rehearse({ ...easy, truths: 1 }, { solver });
    expect(again.stages[0]!.distance).toBe(rehearse({ ...easy, truths: 1 }, { solver }).stages[0]!.distance);
    const stop = () => rehearse(easy, { solver }, { cancelled: () => true });
    expect(stop).toThrow(/stopped/);
  });

  it('refuses what cannot be played', () => {
    expect(() => rehearse({ ...easy, truths: 0 }, { solver })).toThrow(/truths/);
    expect(() => rehearse({ ...easy, first: [] }, { solver })).toThrow(/first/);
    const aimless = easy.attributes.map((one) => ({ ...one, target: null }));
    expect(() => rehearse({ ...easy, attributes: aimless }, { solver })).toThrow(/target/);
  });
});
