import { expect, test } from 'vitest';
import { readPairs, readWithoutPairs } from '../../../trials/rounds/reading-on-screen.ts';
import { assignReading, readReading, storeReading } from '../../../trials/rounds/readings.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';

const context = contextOf(storeWithData());
const pair = (a: string, b: string, p: number | null) => ({
  ...{ a, b, difference: 3, standardError: 1, denDf: 9, p },
});
const differences = [pair('m1', 'm2', 0.01), pair('m1', 'm3', 0.2), pair('m2', 'm3', null)];
const means = [
  { mix: 'm1', mean: 5, standardError: 2, denDf: 10 },
  { mix: 'm2', mean: 5, standardError: null, denDf: null },
];
// Student's t, 97.5 %, 10 degrees of freedom: 2.228139 (R 4: qt(0.975, 10))
const intervals = [[expect.closeTo(5 - 2 * 2.228139, 5), expect.closeTo(5 + 2 * 2.228139, 5)], null];
const panel = { attributes: [{ id: 'bitter', means, differences }], warnings: [] };

test('a reading opens with its pairs counted and its intervals, has them by name, and is kept whole', () => {
  const result = { panel, fit: { attributes: [] }, withoutKnowing: { panel, fit: { attributes: [] } } };
  const name = storeReading(context, assignReading(context, 'demo', []), result);
  const shown = readWithoutPairs(context, 'demo', name);
  const counted = {
    attributes: [
      {
        id: 'bitter',
        means: means.map((row, i) => ({ ...row, interval: intervals[i] })),
        differences: [],
        pairs: { all: 3, apart: 1 },
      },
    ],
    warnings: [],
  };
  expect(shown.result).toEqual({
    panel: counted,
    fit: { attributes: [] },
    withoutKnowing: { panel: counted, fit: { attributes: [] } },
  });
  expect(readPairs(context, 'demo', name, 'bitter')).toEqual(differences);
  expect(readReading(context, 'demo', name).result).toEqual(result);
  expect(refusalOf(() => readPairs(context, 'demo', name, 'sweet')).code).toBe('not-found');
  expect(refusalOf(() => readWithoutPairs(context, 'demo', 'read-9')).code).toBe('not-found');
});
