import { expect, test } from 'vitest';
import { dropwise } from '../support/command-line.ts';

async function json(...args: string[]) {
  const { status, out, err } = await dropwise('difference', ...args, '--json');
  expect(err).toBe('');
  expect(status).toBe(0);
  return JSON.parse(out);
}

// expected values by SciPy's binom and brentq, written out in the comments

test('close enough is a test of its own beside the difference', async () => {
  const found = await json('triangle', '--trials', '30', '--correct', '16', '--close-enough', '0.3');
  // binom.cdf(16, 30, 1/3 + 2/3 · 0.3); largest c with cdf ≤ 0.05
  expect(found.similarity.p).toBeCloseTo(0.5708237, 6);
  expect(found.similarity).toMatchObject({ similar: false, most: 11, closeEnough: 0.3 });
  expect(found.p).toBeCloseTo(0.018795, 6);
  expect(found.similarity.says).toContain('does not show a difference either');
});

test('what six people can find', async () => {
  const rates = ['--power', '0.8', '--alpha', '0.05'];
  const found = await json('triangle', '--plan', '--tasters', '6', ...rates);
  // (brentq(binom.sf(4, 6, pc) - 0.8) - 1/3) / (2/3)
  expect(found.proportionAbove).toBeCloseTo(0.7901789, 6);
  expect(found.needed).toBe(5);
  const plan = await json('triangle', '--plan', '--close-enough', '0.3', ...rates);
  expect(plan).toMatchObject({ firstTrials: 39, trials: 46, most: 18 });
  expect(plan.power).toBeCloseTo(0.8392026, 6);
});

test('a preference has two sides, read and planned', async () => {
  const found = await json('preference', '--first', '14', '--second', '6', '--neither', '2');
  // binomtest(14, 20).pvalue
  expect(found.p).toBeCloseTo(0.1153183, 6);
  expect(found).toMatchObject({ share: 0.7, needed: 15 });
  const plan = await json('preference', '--plan', '--share', '0.7', '--power', '0.8', '--alpha', '0.05');
  expect(plan).toMatchObject({ firstTrials: 49, trials: 54, needed: 35 });
});

test('several answers of the same people are no more people', async () => {
  const { p, correct, trials, says, fit } = await json('triangle', '--each', '3/4,2/4,4/4,1/4');
  expect([correct, trials]).toEqual([10, 16]);
  // binom.sf(9, 16, 1/3)
  expect(p).toBeCloseTo(0.0159455, 6);
  expect(fit.mean).toBeCloseTo(10 / 16, 2);
  expect(says).toContain('Others than these few may differ');
});

test('answers one by one stop as soon as they tell', async () => {
  const found = await json('triangle', '--one-by-one', '111111111', '--can-tell', '0.5');
  // Wald's lines for 1/3 against 2/3: slope 1/2, intercepts ± ln 19 / ln 4
  expect(found.plan.slope).toBeCloseTo(0.5, 12);
  expect(found.plan.upperIntercept).toBeCloseTo(Math.log(19) / Math.log(4), 10);
  expect(found.decision).toBe('difference');
  expect(found.steps).toHaveLength(5);
});

test('options that do not go together are refused', async () => {
  const refused = [
    [['triangle', '--each', '3/4'], '--each'],
    [['triangle', '--each', '5/4,1/2'], '--each'],
    [['triangle', '--one-by-one', '12'], '--one-by-one'],
    [['triangle', '--one-by-one', '11'], '--dprime'],
    [['triangle', '--one-by-one', '11', '--dprime', '1', '--can-tell', '0.2'], '--can-tell'],
    [['preference', '--trials', '3', '--correct', '2'], '--trials'],
    [['triangle', '--trials', '3', '--correct', '2', '--tasters', '5'], '--tasters'],
    [['triangle', '--plan', '--tasters', '5', '--power', '0.8'], '--alpha'],
  ] as const;
  for (const [args, named] of refused) {
    const { status, out, err } = await dropwise('difference', ...args);
    expect([args, status, out]).toEqual([args, 2, '']);
    expect(err).toContain(named);
  }
});
