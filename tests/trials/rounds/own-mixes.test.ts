import { describe, expect, test } from 'vitest';
import { acceptRound } from '../../../trials/rounds/accept-round.ts';
import { RoundRequest } from '../../../trials/schema/api.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { weighedTrial } from '../../support/small-trial.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);
const settings = { dose: 0.25 };

describe('a round of the maker’s own mixes', () => {
  test('gets names that go on and shares from the grams', () => {
    const trial = weighedTrial(context);
    const own = [
      { grams: { peelOil: 1.6, limeOil: 1.2, woodOil: 1.2 }, settings },
      { grams: { peelOil: 2.8, woodOil: 1.2 }, settings },
    ];
    const round = acceptRound(context, trial, { own, restHours: 12 });
    expect(round.round).toBe(2);
    expect(round.mixes.map(({ mix }) => mix)).toEqual(['m1', 'm2']);
    expect(round.mixes[1]!.planned.ratios).toEqual({ peelOil: 2.8 / 4, limeOil: 0, woodOil: 1.2 / 4 });
  });

  test('keeps to the brief: every limit that is broken is named, and nothing is written', () => {
    const trial = weighedTrial(context);
    const own = [{ grams: { peelOil: 3.2, limeOil: 0.6, woodOil: 0.2 }, settings }];
    const said = refusalOf(() => acceptRound(context, trial, { own, restHours: 12 })).faults;
    expect(said.map(({ allowed }) => allowed)).toEqual([
      'Zitronat oil at most 0.7',
      'Cedrat oil at least 0.1',
    ]);
    const strange = [{ grams: { peelOil: 2, limeOil: 1, woodOil: 1, gin: 1 }, settings: { dose: 9 } }];
    const both = refusalOf(() => acceptRound(context, trial, { own: strange, restHours: 12 })).faults;
    expect(both).toHaveLength(2);
    expect(store.rounds.list(trial)).toHaveLength(1);
  });

  test('is asked for with mixes or with proposals, not with nothing', () => {
    expect(RoundRequest.safeParse({ restHours: 1 }).success).toBe(false);
    expect(RoundRequest.safeParse({ own: [], restHours: 1 }).success).toBe(false);
    expect(RoundRequest.safeParse({ reading: 'next-1' }).success).toBe(true);
  });
});
