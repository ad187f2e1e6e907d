import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { Serving } from '../../../engine/panel/observations.ts';
import { readPanel } from '../../../engine/panel/read-panel.ts';
import { expectClose } from './mixed/closeness.ts';
import { attribute, readReference, servingsFrom, servingsOf, type Table } from './panel-data.ts';

/** Written by tests/reference/panel/session-shifts.R with lme4. */
interface Case {
  data: 'cream' | 'loop';
  attribute: string;
  add: number;
  variance: number;
  residual: number;
  statistic: number;
  p: number;
}
const { cases } = readReference<{ cases: Case[] }>('panel/session-shifts.json');
const tables = {
  cream: readReference<Table>('panel/cream-cheese-two.json'),
  loop: readReference<Table>('model/flavour-loop.json'),
};

/** The same shifts as the script adds. */
function shifted(servings: readonly Serving[], add: number): Serving[] {
  return servings.map((serving) => {
    const [a, s] = [Number(serving.assessor.slice(1)), Number(serving.session)];
    return { ...serving, scores: serving.scores.map((v) => v! + add * (((7 * a + 5 * s + a * s) % 5) - 2)) };
  });
}

const read = (servings: readonly Serving[], more = {}) =>
  readPanel({ servings, attributes: [attribute('y')], ...more }).attributes[0]!;

describe('shifts of assessors between sessions against lme4', () => {
  it.each(cases.map((c) => [`${c.data} ${c.attribute}, shifts ${c.add}`, c] as const))(
    '%s',
    (_, expected) => {
      const plain =
        expected.data === 'cream'
          ? servingsOf(tables.cream, [expected.attribute], { session: 'session' })
          : servingsOf(tables.loop, [expected.attribute], { mix: 'variant', session: 'replicate' });
      const found = read(shifted(plain, expected.add));
      expectClose(found.shifts!.variance, expected.variance, 1e-4, 1e-6 * expected.residual);
      expectClose(found.shifts!.statistic, expected.statistic, 1e-6, 1e-8);
      expectClose(found.shifts!.p, expected.p, 1e-6);
      expect(found.warnings.some((line) => line.includes('--assessor-by-session'))).toBe(expected.p < 0.01);
    },
  );
});

describe('where nothing can be told', () => {
  const size = { assessors: 5, mixes: 4, replicates: 4 };
  const random = createRandom(3);
  const panel = servingsFrom(size, (a, m) => [50 + 3 * a + 2 * m + random.normal()]);

  it('one session, or nobody who came twice', () => {
    expect(read(panel)).not.toHaveProperty('shifts');
    const once = panel.map((serving) => ({
      ...serving,
      session: Number(serving.assessor.slice(1)) < 3 ? 's1' : 's2',
    }));
    expect(read(once)).not.toHaveProperty('shifts');
  });

  it('asked for already', () => {
    const evenings = panel.map((serving) => ({ ...serving, session: `s${serving.replicate}` }));
    expect(read(evenings).shifts).toBeDefined();
    expect(read(evenings, { assessorBySession: true })).not.toHaveProperty('shifts');
  });

  it('one cup of each in a session: shifts are the noise of a cup', () => {
    const single = panel
      .filter(({ replicate }) => replicate === '1')
      .map((serving) => ({ ...serving, session: serving.mix }));
    expect(read(single)).not.toHaveProperty('shifts');
  });
});

it('warns no more often than it says where nobody shifts', () => {
  const random = createRandom(17);
  const panels = 150;
  let small = 0;
  for (let i = 0; i < panels; i++) {
    const own = Array.from({ length: 6 }, () => 8 * random.normal());
    const evening = Array.from({ length: 3 }, () => 3 * random.normal());
    const servings = servingsFrom({ assessors: 6, mixes: 5, replicates: 3 }, (a, m, r) => [
      50 + own[a]! + evening[r]! + 4 * m + 8 * random.normal(),
    ]).map((serving) => ({ ...serving, session: serving.replicate }));
    if (read(servings).shifts!.p < 0.05) small++;
  }
  // 0.05 at most: above 16 of 150 would be 1 in 1000 by chance
  expect(small).toBeLessThanOrEqual(16);
});
