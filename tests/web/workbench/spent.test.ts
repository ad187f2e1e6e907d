import { expect, test } from 'vitest';
import type { RoundView } from '../../../trials/schema/api.ts';
import { spentByRound } from '../../../web/workbench/pages/spent-by-round.ts';
import { smallBrief } from '../../support/small-trial.ts';

const mix = (name: string, weighed: Record<string, number> | null, more = {}) => ({
  ...{ mix: name, blend: name, repeats: null, again: false, weighedAt: null, why: '', note: '', weighed },
  planned: { ratios: {}, grams: {}, settings: {} },
  ...more,
});
const round = (number: number, mixes: object[], cups: number) =>
  ({ round: number, mixes, sittings: cups === 0 ? [] : [{ cups }] }) as unknown as RoundView;

const ROUNDS = [
  round(
    1,
    [
      mix('a', { peelOil: 2, limeOil: 1, 'woodOil@10': 5 }),
      mix('b', { peelOil: 2, limeOil: 1, 'woodOil@10': 5 }, { blend: 'a' }),
      mix('c', null),
    ],
    24,
  ),
  round(
    2,
    [mix('a', { peelOil: 2, limeOil: 1, 'woodOil@10': 5 }, { again: true }), mix('d', { peelOil: 1 })],
    0,
  ),
];

test('a round’s grams count each bottle once and stocks by what they hold', () => {
  expect(spentByRound(smallBrief(), ROUNDS)).toEqual([
    { round: 1, grams: 3.5, money: null, cups: 24 },
    { round: 2, grams: 1, money: null, cups: 0 },
  ]);
});

test('money is told where every price is known', () => {
  const brief = smallBrief();
  const components = brief.components.map((one, k) => ({ ...one, pricePerGram: k + 1 }));
  const money = spentByRound({ ...brief, components }, ROUNDS).map((one) => one.money);
  // 2 g at 1, 1 g at 2 and half a gram at 3; then 1 g at 1.
  expect(money).toEqual([5.5, 1]);
});
