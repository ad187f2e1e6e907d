import { describe, expect, test } from 'vitest';
import { markAbsent } from '../../../trials/rounds/absence.ts';
import { ballotView } from '../../../trials/rounds/ballot-view.ts';
import { consentWords, giveConsent, noteProgress } from '../../../trials/rounds/consent.ts';
import { checkPaper, enterPaper } from '../../../trials/rounds/enter-paper.ts';
import { liveView } from '../../../trials/rounds/live.ts';
import { closeSitting, openKey, openSitting } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { answer, openTrial } from '../../support/open-trial.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { drawnTrial, smallBrief } from '../../support/small-trial.ts';
import { contextOf, NOON, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);

describe('answers', () => {
  test('are stored once, acknowledged as often as they come', () => {
    const { trial, sitting, seat, codes } = openTrial(context);
    const batch = [answer(codes[0]!), answer(codes[1]!, { value: null })];
    expect(takeAnswers(context, seat, batch)).toEqual({
      stored: batch.map(({ id }) => id),
      refused: [],
      late: false,
    });
    expect(takeAnswers(context, seat, batch).stored).toEqual(batch.map(({ id }) => id));
    expect(store.answers.messages(seat).length).toBe(2);
    const counted = store.answers.counted(trial, sitting, false);
    expect(counted.map(({ code, value }) => [code, value])).toEqual(
      [
        [codes[0], 50],
        [codes[1], null],
      ].sort(),
    );
  });

  test('that can never be stored are named one by one; the others are stored', () => {
    const { seat, codes } = openTrial(context);
    const [code] = codes as [string];
    const used = answer(code);
    const batch = [
      used,
      { ...used, value: 51 },
      answer('999', { count: 2 }),
      answer(code, { question: 'sweet', count: 3 }),
      answer(code, { value: 100.5, count: 4 }),
      answer(code, { question: 'liking', value: 4.5, count: 5 }),
      answer(code, { question: 'liking', value: 9, count: 6 }),
    ];
    const receipt = takeAnswers(context, seat, batch);
    expect(receipt.stored).toEqual([used.id, batch[6]!.id]);
    expect(receipt.refused.map(({ because }) => because)).toEqual([
      'another answer came under this id',
      'no cup of yours is marked 999',
      'this question was not asked',
      'the scale runs from 0 to 100',
      'this question takes whole numbers',
    ]);
  });

  test('wait while the sitting is not open, and are taken after it was closed', () => {
    const { trial, sitting } = drawnTrial(context);
    const seat = { trial, sitting, assessor: 'Bob' };
    const { code } = store.sittings.cupsOf(seat)[0]!;
    expect(refusalOf(() => takeAnswers(context, seat, [answer(code)])).code).toBe('conflict');
    openSitting(context, { trial, sitting });
    closeSitting(context, { trial, sitting });
    expect(takeAnswers(context, seat, [answer(code)])).toMatchObject({ late: false, refused: [] });
  });

  test('after the key was opened are kept, marked late, and do not undo what counts', () => {
    const { place, seat, codes } = openTrial(context);
    takeAnswers(context, seat, [answer(codes[0]!)]);
    openKey(context, place, 'early');
    const late = [answer(codes[0]!, { value: 99, count: 7 }), answer(codes[1]!, { value: 12, count: 8 })];
    expect(takeAnswers(context, seat, late).late).toBe(true);
    const counted = store.answers.counted(place.trial, place.sitting, false);
    expect(counted.map(({ code, value }) => [code, value])).toEqual([[codes[0], 50]]);
    expect(store.answers.counted(place.trial, place.sitting, true).length).toBe(2);
    expect(liveView(store, place, NOON).trays[0]).toMatchObject({ late: 2 });
  });

  test('of two phones with one link are both kept, and the clash shows', () => {
    const { place, seat, codes } = openTrial(context);
    const other = messageId(['other phone']);
    takeAnswers(context, seat, [answer(codes[0]!), answer(codes[1]!)]);
    takeAnswers(context, seat, [
      answer(codes[0]!, { phone: other, value: 70 }),
      answer(codes[1]!, { phone: other }),
    ]);
    expect(liveView(store, place, NOON).trays[0]).toMatchObject({ phones: 2, clashes: 1 });
    const counted = store.answers.counted(place.trial, place.sitting, false);
    expect(counted.find(({ code }) => code === codes[0])!.value).toBe(70);
  });

  test('on paper are entered whole or not at all, and may be entered again', () => {
    const { place, codes } = openTrial(context);
    const marks = [
      { code: codes[0]!, question: 'bitter', value: 33 },
      { code: codes[0]!, question: 'liking', value: 7 },
    ];
    const bad = [...marks, { code: codes[0]!, question: 'liking', value: 70 }];
    const refusal = refusalOf(() => enterPaper(context, place, { assessor: 'Ann', answers: bad }));
    expect(refusal.faults.map(({ where }) => where)).toEqual(['answers[2]']);
    expect(store.answers.counted(place.trial, place.sitting, false)).toEqual([]);
    expect(enterPaper(context, place, { assessor: 'Ann', answers: marks }).answers).toBe(2);
    const corrected = [{ ...marks[0]!, value: 34 }];
    enterPaper(context, place, { assessor: 'Ann', answers: corrected });
    const counted = store.answers.counted(place.trial, place.sitting, false);
    expect(counted.map(({ question, value }) => [question, value])).toEqual([
      ['bitter', 34],
      ['liking', 7],
    ]);
    expect(refusalOf(() => enterPaper(context, place, { assessor: 'Eve', answers: marks })).code).toBe(
      'not-found',
    );
  });
});

describe('a paper ballot entered twice', () => {
  test('tells where the two entries differ and nothing else', () => {
    const { place, codes } = openTrial(context);
    const mark = (question: string, value: number | null, cup = 0) => ({
      code: codes[cup]!,
      question,
      value,
    });
    const first = [mark('bitter', 33), mark('liking', 7), mark('bitter', null, 1)];
    enterPaper(context, place, { assessor: 'Ann', answers: first });
    const check = (answers: typeof first) => checkPaper(context, place, { assessor: 'Ann', answers });
    expect(check(first)).toEqual({ same: 3, differences: [] });
    expect(check([mark('bitter', 35), mark('liking', 7), mark('liking', 4, 1)])).toEqual({
      same: 1,
      differences: [
        { code: codes[0], question: 'bitter', first: 33, second: 35 },
        { code: codes[1], question: 'bitter', first: null, second: undefined },
        { code: codes[1], question: 'liking', first: undefined, second: 4 },
      ],
    });
    expect(store.answers.messages({ ...place, assessor: 'Ann' })).toHaveLength(3);
    expect(store.acts.list(place.trial).at(-1)!.detail).toMatch(/3 differ, 1 agree/);
    const stranger = { assessor: 'Eve', answers: first };
    expect(refusalOf(() => checkPaper(context, place, stranger)).code).toBe('not-found');
  });
});

describe('the live page', () => {
  test('tells what is missing by code, and when silence is worth a look', () => {
    const { place, seat, codes } = openTrial(context);
    const tray = () => liveView(store, place, NOON).trays[0]!;
    expect(tray()).toMatchObject({ gaps: [], quietFrom: null });
    giveConsent(context, seat, consentWords(smallBrief()).version);
    noteProgress(context, seat, 1);
    takeAnswers(context, seat, [answer(codes[0]!)]);
    noteProgress(context, seat, 2);
    const { quietFrom, lastHeard, gaps } = tray();
    expect(gaps).toEqual([{ code: codes[0], missing: 1 }]);
    // A minute of rest, and four more.
    expect(Date.parse(quietFrom!) - Date.parse(lastHeard!)).toBe(300_000);
    const rest = codes.flatMap((code) => [answer(code), answer(code, { question: 'liking', value: 5 })]);
    takeAnswers(context, seat, rest);
    expect(tray()).toMatchObject({ filled: 4, gaps: [], quietFrom: null });
    closeSitting(context, place);
    const bob = liveView(store, place, NOON).trays[1]!;
    expect(bob.gaps.map(({ missing }) => missing)).toEqual([2, 2, 2, 2]);
    markAbsent(context, place, { assessor: 'Bob', absent: true });
    expect(liveView(store, place, NOON).trays[1]!.gaps).toEqual([]);
  });
});

describe('a ballot', () => {
  test('asks the same questions of everybody, begun further on for each next taster', () => {
    const { place } = openTrial(context);
    const order = (assessor: string) =>
      ballotView(store, { ...place, assessor }, []).questions.map(({ id }) => id);
    expect([order('Ann'), order('Bob')]).toEqual([
      ['bitter', 'liking'],
      ['liking', 'bitter'],
    ]);
  });

  test('has buttons for short scales of whole numbers and rests as the sitting was drawn', () => {
    const { place } = openTrial(context, {
      replicates: 2,
      restSeconds: 90,
      longRestSeconds: 500,
      warmup: true,
    });
    const ballot = ballotView(store, { ...place, assessor: 'Ann' }, ['http://x:1']);
    expect(ballot.questions.map(({ form }) => form)).toEqual(['line', 'points']);
    expect(ballot.cups.map(({ restSeconds }) => restSeconds)).toEqual([0, 90, 90, 90, 90, 500, 90, 90, 90]);
    expect(ballot.addresses).toEqual(['http://x:1']);
  });

  test('shows what to know before tasting, and keeps only that it was accepted, and when', () => {
    const { place, seat } = openTrial(context);
    const { version, cautions } = consentWords(smallBrief());
    expect(cautions).toEqual(['Holds citrus.']);
    expect(refusalOf(() => giveConsent(context, seat, 'other words')).code).toBe('conflict');
    expect(liveView(store, place, NOON).trays[0]!.mayTaste).toBe(false);
    giveConsent(context, seat, version);
    giveConsent(context, seat, version);
    expect(ballotView(store, seat, []).consent).toEqual({ version, cautions, given: true });
    expect(store.answers.consents(place.trial, place.sitting)).toEqual([
      { assessor: 'Ann', version, at: expect.stringMatching(/^2026-03-10T12/) },
    ]);
    expect(liveView(store, place, NOON).trays.map(({ mayTaste }) => mayTaste)).toEqual([true, false]);
  });

  test('is followed cup by cup, forwards only', () => {
    const { place, seat, codes } = openTrial(context);
    noteProgress(context, seat, 3);
    noteProgress(context, seat, 1);
    noteProgress(context, { ...seat, assessor: 'Bob' }, 150);
    takeAnswers(context, seat, [
      answer(codes[0]!),
      answer(codes[0]!, { question: 'liking', value: 5 }),
      answer(codes[1]!),
    ]);
    const trays = liveView(store, place, NOON).trays.map(({ assessor, cups, filled, at }) => [
      assessor,
      cups,
      filled,
      at,
    ]);
    expect(trays).toEqual([
      ['Ann', 4, 1, 3],
      ['Bob', 4, 0, 4],
    ]);
  });
});
