import { describe, expect, test } from 'vitest';
import { addTaster } from '../../../trials/rounds/add-taster.ts';
import { ballotView } from '../../../trials/rounds/ballot-view.ts';
import { partsOf } from '../../../trials/rounds/cup-parts.ts';
import { liveView } from '../../../trials/rounds/live.ts';
import { readTest } from '../../../trials/rounds/read-test.ts';
import { openKey, openSitting } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import type { SittingRequest } from '../../../trials/schema/api.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { drawnTrial } from '../../support/small-trial.ts';
import { contextOf, NOON, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);
const phone = messageId(['phone']);

function openTest(form: NonNullable<SittingRequest['test']>['form'], given: Partial<SittingRequest> = {}) {
  const stronger = form.endsWith('afc') ? 'qa1' : undefined;
  const { trial, sitting } = drawnTrial(context, {
    mixes: ['qa1'],
    replicates: 2,
    test: { form, of: 'bitter', ...(stronger ? { stronger } : {}) },
    ...given,
  });
  openSitting(context, { trial, sitting });
  return { trial, sitting };
}

/** Answers every set of a taster: rightly or wrongly. */
function answerSets(place: { trial: string; sitting: string }, assessor: string, rightly: boolean): void {
  const seat = { ...place, assessor };
  const messages = partsOf(store.sittings.cupsOf(seat)).map(({ cups, part }) => {
    const drinks = cups.map(({ mix }) => mix);
    const form = store.sittings.find(place.trial, place.sitting)!.manner.test!.form;
    const odd = (i: number) => drinks.filter((mix) => mix === drinks[i]).length === 1;
    const partner = (i: number) => i > 0 && drinks[i] === drinks[0];
    const isRight =
      form === 'triangle' ? odd : form.endsWith('afc') ? (i: number) => drinks[i] === 'qa1' : partner;
    const open = form === 'duo-trio' || form === 'tetrad' ? 1 : 0;
    const named = cups.findIndex((_, i) => i >= open && isRight(i) === rightly);
    const value = Number(cups[named]!.code);
    const id = messageId([place.trial, place.sitting, assessor, String(part)]);
    return { id, code: cups[0]!.code, question: 'choice', value, phone, count: part };
  });
  expect(takeAnswers(context, seat, messages).refused).toEqual([]);
}

describe.each([
  ['triangle', 3],
  ['duo-trio', 3],
  ['tetrad', 4],
  ['two-afc', 2],
  ['three-afc', 3],
] as const)('a %s sitting', (form, size) => {
  test(`serves sets of ${size}, each answered by naming one cup, and reads what was right`, () => {
    const place = openTest(form);
    const ballot = ballotView(store, { ...place, assessor: 'Ann' }, []);
    expect(ballot.cups.map(({ part }) => part)).toEqual([
      ...new Array(size).fill(1),
      ...new Array(size).fill(2),
    ]);
    expect(ballot.questions).toEqual([{ id: 'choice', name: 'bitter', scale: [100, 999], form, words: [] }]);
    expect(JSON.stringify(ballot)).not.toContain('qa1');
    answerSets(place, 'Ann', true);
    answerSets(place, 'Bob', false);
    expect(liveView(store, place, NOON).trays.map(({ cups, filled }) => [cups, filled])).toEqual([
      [2, 2],
      [2, 2],
    ]);
    expect(refusalOf(() => readTest(store, place)).message).toMatch(/sealed/);
    openKey(context, place, 'all in');
    const read = readTest(store, place);
    expect([read.trials, read.correct, read.byAssessor]).toEqual([
      4,
      2,
      [
        { assessor: 'Ann', trials: 2, correct: 2 },
        { assessor: 'Bob', trials: 2, correct: 0 },
      ],
    ]);
    expect(read.result!.says).not.toBe('');
  });
});

describe('a difference test', () => {
  test('answers under the first cup of a set and names a cup of that set', () => {
    const place = openTest('duo-trio');
    const seat = { ...place, assessor: 'Ann' };
    const [one, two] = partsOf(store.sittings.cupsOf(seat));
    const send = (code: string, value: number, n: number) => {
      const id = messageId(['send', String(n), place.trial]);
      return takeAnswers(context, seat, [{ id, code, question: 'choice', value, phone, count: n }]).refused;
    };
    const [a, b] = [one!.cups[0]!.code, one!.cups[1]!.code];
    expect(send(b, Number(b), 1)[0]!.because).toMatch(/answered under its first cup/);
    expect(send(a, Number(a), 2)[0]!.because).toMatch(/is to be named/);
    expect(send(a, Number(two!.cups[1]!.code), 3)[0]!.because).toMatch(/is to be named/);
    expect(send(a, Number(b), 4)).toEqual([]);
  });

  test('seats a late taster with as many sets, under codes of their own', () => {
    const place = openTest('triangle');
    addTaster(context, place, { assessor: 'Cy', knowing: false });
    const cups = store.sittings.cupsOf({ ...place, assessor: 'Cy' });
    expect(partsOf(cups).map((part) => part.cups.length)).toEqual([3, 3]);
    const others = store.sittings
      .cups(place.trial, place.sitting)
      .filter(({ assessor }) => assessor !== 'Cy');
    expect(cups.filter(({ code }) => others.some((other) => other.code === code))).toEqual([]);
    for (const { cups: set } of partsOf(cups)) expect(new Set(set.map(({ mix }) => mix)).size).toBe(2);
  });

  test('is between two drinks, with somebody else pouring; a forced choice says which should be stronger', () => {
    const test = { form: 'triangle' as const, of: '' };
    const refused = (given: Partial<SittingRequest>) =>
      refusalOf(() => drawnTrial(context, given)).faults[0]!.where;
    expect(refused({ test, mixes: ['qa1', 'qb2'] })).toBe('mixes');
    expect(refused({ test, mixes: ['qa1'], alone: true })).toBe('alone');
    expect(refused({ test, mixes: ['qa1'], warmup: true })).toBe('warmup');
    expect(refused({ test: { form: 'two-afc', of: 'bitter' }, mixes: ['qa1'] })).toBe('test.stronger');
    expect(refused({ test: { form: 'two-afc', of: ' ', stronger: 'qa1' }, mixes: ['qa1'] })).toBe('test.of');
  });

  test('a sitting with scores has none', () => {
    const { trial, sitting } = drawnTrial(context);
    expect(refusalOf(() => readTest(store, { trial, sitting })).message).toMatch(/holds scores/);
  });
});
