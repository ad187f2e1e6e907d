import { describe, expect, test } from 'vitest';
import { acceptRound, makeRound } from '../../../trials/rounds/accept-round.ts';
import { changeBrief, createTrial } from '../../../trials/rounds/create-trial.ts';
import { storeReading } from '../../../trials/rounds/readings.ts';
import { openSitting } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { trialView } from '../../../trials/rounds/trial-view.ts';
import { weighMix } from '../../../trials/rounds/weigh-mix.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { drawnTrial, plannedTrial, smallBrief, smallMixes, weighedTrial } from '../../support/small-trial.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);

/** Everything a trial holds, to see that a refusal changed nothing. */
const all = (trial: string) => JSON.stringify(store.documents.write(trial));

function refusedWithoutTrace(trial: string, act: () => unknown) {
  const before = all(trial);
  const refusal = refusalOf(act);
  expect(all(trial)).toBe(before);
  return refusal;
}

describe('a brief', () => {
  test('becomes a trial that says where it stands', () => {
    const view = createTrial(context, smallBrief());
    expect(view).toMatchObject({
      name: 'Pith and pepper',
      briefVersion: 1,
      rounds: 0,
      demo: false,
      warnings: [],
    });
    expect(view.stands).toBe('The brief is written: plan the first mixes.');
    expect(store.acts.list(view.trial).map(({ act, who }) => [act, who])).toEqual([
      ['made the trial', 'maker'],
    ]);
  });

  test('that cannot be used makes no trial and names every fault', () => {
    const before = store.trials.list().length;
    const brief = { ...smallBrief(), batch: { grams: -1, readability: 0.01 }, attributes: [] };
    const refusal = refusalOf(() => createTrial(context, brief));
    expect(refusal.code).toBe('bad-input');
    expect(refusal.faults.map(({ where }) => where).sort()).toEqual(['attributes', 'batch.grams']);
    expect(store.trials.list().length).toBe(before);
  });

  test('keeps every version; saving the same again is no version', () => {
    const { trial } = createTrial(context, smallBrief());
    const renamed = { ...smallBrief(), name: 'Pith' };
    expect(changeBrief(context, trial, renamed)).toMatchObject({ briefVersion: 2, name: 'Pith' });
    expect(changeBrief(context, trial, renamed).briefVersion).toBe(2);
    expect(store.trials.briefVersions(trial).map(({ brief }) => brief.name)).toEqual([
      'Pith and pepper',
      'Pith',
    ]);
  });

  test('may not drop what mixes hold, nor gain a setting they lack, nor rescale what was scored', () => {
    const { trial, sitting } = drawnTrial(context);
    openSitting(context, { trial, sitting });
    const seat = { trial, sitting, assessor: 'Ann' };
    const { code } = store.sittings.cupsOf(seat)[0]!;
    const answer = {
      code,
      question: 'bitter',
      value: 9,
      phone: messageId(['p']),
      count: 1,
      id: messageId(['1']),
    };
    takeAnswers(context, seat, [answer]);
    const brief = smallBrief();
    const changes = {
      components: brief.components.slice(0, 2).map((c) => ({ ...c, high: 1 })),
      settings: [...brief.settings, { ...brief.settings[0]!, id: 'acid' }],
      attributes: brief.attributes.map((a) => (a.id === 'bitter' ? { ...a, scale: [0, 150] } : a)),
    };
    for (const [field, value] of Object.entries(changes)) {
      const refusal = refusedWithoutTrace(trial, () =>
        changeBrief(context, trial, { ...brief, [field]: value }),
      );
      expect(refusal.faults[0]!.where).toContain(field);
    }
    const added = {
      ...brief,
      components: [...brief.components, { id: 'newOil', name: 'New', low: 0, high: 0.3 }],
    };
    expect(changeBrief(context, trial, added).briefVersion).toBe(2);
  });

  test('of a trial that is not there is not found', () => {
    expect(refusalOf(() => changeBrief(context, 'nowhere', smallBrief())).code).toBe('not-found');
    expect(refusalOf(() => trialView(context, 'nowhere')).code).toBe('not-found');
  });
});

describe('a plan', () => {
  const planned = (mixes: unknown[]) => {
    const { trial } = createTrial(context, smallBrief());
    const assignment = { trial, kind: 'plan' as const, round: null, seed: 7, input: { any: 1 } };
    return { trial, reading: storeReading(context, assignment, { mixes }) };
  };
  const asPlanned = () =>
    smallMixes().map(({ mix, planned: { ratios, grams, settings }, why }) => ({
      mix,
      ratios,
      grams,
      settings,
      why,
    }));

  test('becomes the next round, whole or the mixes that are kept', () => {
    const { trial, reading } = planned(asPlanned());
    const round = acceptRound(context, trial, { reading, only: ['qc3', 'qa1'], restHours: 12 });
    expect(round).toMatchObject({ round: 1, state: 'open', reading, restHours: 12 });
    expect(round.mixes.map(({ mix, blend, weighed }) => [mix, blend, weighed])).toEqual([
      ['qa1', 'qa1', null],
      ['qc3', 'qc3', null],
    ]);
    expect(round.steps.map(({ state }) => state).slice(0, 3)).toEqual(['done', 'now', 'waiting']);
    expect(
      refusedWithoutTrace(trial, () => acceptRound(context, trial, { reading, restHours: 12 })).code,
    ).toBe('conflict');
  });

  test('that does not fit is refused whole, every fault named', () => {
    const [one, two, three] = asPlanned() as [object, object, object];
    const bad = [
      one,
      { ...two, mix: 'qa1' },
      { ...three, grams: { peelOil: 1, limeOil: 1, woodOil: 3 }, settings: { dose: 9 } },
      { ...three, mix: 'reference' },
      { ...three, mix: 'm9', repeats: 'm8' },
      { ...three, mix: 'm10', again: true },
      { ...three, mix: 'm11', grams: { gin: 4 }, ratios: { gin: 1 } },
    ];
    const { trial, reading } = planned(bad);
    const refusal = refusedWithoutTrace(trial, () => acceptRound(context, trial, { reading, restHours: 1 }));
    const said = refusal.faults.map(({ message }) => message).join('\n');
    for (const words of [
      'each name once',
      'ratio of peelOil',
      '0.2 to 0.4',
      'another name',
      'a mix of this trial',
      'an earlier mix',
      'a component of the brief',
    ])
      expect(said).toContain(words);
    expect(
      refusalOf(() => acceptRound(context, trial, { reading, only: ['zz'], restHours: 1 })).faults[0]!.found,
    ).toBe('"zz"');
    expect(refusalOf(() => acceptRound(context, trial, { reading: 'plan-99', restHours: 1 })).code).toBe(
      'not-found',
    );
  });

  test('may pour an earlier mix again, or its bottle at another dose; neither is weighed anew', () => {
    const trial = weighedTrial(context);
    const [first] = smallMixes();
    const again = { ...first!, again: true };
    const stronger = {
      ...first!,
      mix: 'qa1x',
      blend: 'qa1',
      planned: { ...first!.planned, settings: { dose: 0.4 } },
    };
    const round = makeRound(context, trial, { mixes: [again, stronger], reading: null, restHours: 24 });
    expect(round.round).toBe(2);
    expect(round.mixes.map(({ weighed }) => weighed)).toEqual([first!.planned.grams, first!.planned.grams]);
    expect(round.steps[1]).toMatchObject({ step: 'weigh', state: 'done' });
    for (const mix of ['qa1', 'qa1x'])
      expect(
        refusalOf(() =>
          weighMix(context, { trial, round: 2, mix }, { grams: first!.planned.grams, note: '' }),
        ).code,
      ).toBe('conflict');
  });
});

describe('weighing', () => {
  const where = (trial: string, mix = 'qa1') => ({ trial, round: 1, mix });

  test('keeps what the balance showed, slip included, and every earlier weighing', () => {
    const trial = plannedTrial(context);
    weighMix(context, where(trial), { grams: { peelOil: 2, limeOil: 1, woodOil: 1 }, note: '' });
    const slip = { peelOil: 2.4, limeOil: 1, woodOil: 1 };
    const round = weighMix(context, where(trial), { grams: slip, note: 'too much peel' });
    expect(round.mixes[0]).toMatchObject({ weighed: slip, note: 'too much peel' });
    expect(round.steps[1]!.says).toBe('1 of 3 bottles weighed. Next: qb2.');
    expect(store.rounds.weighings(trial).map(({ grams }) => grams['peelOil'])).toEqual([2, 2.4]);
  });

  test('of one bottle stands for every mix that is poured from it', () => {
    const { trial } = createTrial(context, smallBrief());
    const [first] = smallMixes();
    const stronger = { ...first!, mix: 'strong', planned: { ...first!.planned, settings: { dose: 0.4 } } };
    makeRound(context, trial, { mixes: [first!, stronger], reading: null, restHours: 0 });
    const round = weighMix(context, where(trial, 'strong'), { grams: first!.planned.grams, note: '' });
    expect(round.mixes.map(({ weighed }) => weighed)).toEqual([first!.planned.grams, first!.planned.grams]);
    expect(round.steps[1]).toMatchObject({ state: 'done', says: '1 bottle weighed.' });
  });

  test.each([
    ['a component that is none', { peelOil: 1, limeOil: 1, woodOil: 1, gin: 1 }, 'grams'],
    ['less than nothing', { peelOil: -1, limeOil: 1, woodOil: 1 }, 'grams.peelOil'],
    ['a component left out', { peelOil: 1, limeOil: 1 }, 'grams.woodOil'],
    ['nothing at all', { peelOil: 0, limeOil: 0, woodOil: 0 }, 'grams'],
    ['a stock of no strength', { peelOil: 1, limeOil: 1, 'woodOil@0': 1 }, 'grams'],
  ])('refuses %s', (_name, grams, at) => {
    const trial = plannedTrial(context);
    const refusal = refusedWithoutTrace(trial, () => weighMix(context, where(trial), { grams, note: '' }));
    expect(refusal.faults.map((fault) => fault.where)).toContain(at);
  });

  test('takes a stock for its component', () => {
    const trial = plannedTrial(context);
    const grams = { peelOil: 2, limeOil: 1, 'woodOil@5': 20 };
    expect(weighMix(context, where(trial), { grams, note: '' }).mixes[0]!.weighed).toEqual(grams);
  });

  test('of what is not there is not found', () => {
    const trial = plannedTrial(context);
    const grams = { peelOil: 1, limeOil: 1, woodOil: 1 };
    expect(refusalOf(() => weighMix(context, where(trial, 'zz'), { grams, note: '' })).code).toBe(
      'not-found',
    );
    expect(refusalOf(() => weighMix(context, { ...where(trial), round: 9 }, { grams, note: '' })).code).toBe(
      'not-found',
    );
  });
});
