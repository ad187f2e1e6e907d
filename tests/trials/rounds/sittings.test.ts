import { describe, expect, test } from 'vitest';
import { markAbsent } from '../../../trials/rounds/absence.ts';
import { addTaster } from '../../../trials/rounds/add-taster.ts';
import { ballotView } from '../../../trials/rounds/ballot-view.ts';
import { consentWords, giveConsent, noteProgress } from '../../../trials/rounds/consent.ts';
import { changeBrief } from '../../../trials/rounds/create-trial.ts';
import { drawSitting } from '../../../trials/rounds/draw-sitting.ts';
import { checkPaper, enterPaper } from '../../../trials/rounds/enter-paper.ts';
import { liveView } from '../../../trials/rounds/live.ts';
import { markStep } from '../../../trials/rounds/mark-step.ts';
import { pouringSheet } from '../../../trials/rounds/pouring-sheet.ts';
import { roundView } from '../../../trials/rounds/round-view.ts';
import { closeSitting, openKey, openSitting, renewToken } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { hashToken } from '../../../trials/rounds/tokens.ts';
import type { AnswerMessage } from '../../../trials/schema/ballot.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import {
  drawnTrial,
  plannedTrial,
  sittingRequest,
  smallBrief,
  weighedTrial,
} from '../../support/small-trial.ts';
import { contextOf, NOON, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);
const phone = messageId(['phone']);

function openTrial(given = {}) {
  const drawn = drawnTrial(context, given);
  const place = { trial: drawn.trial, sitting: drawn.sitting };
  openSitting(context, place);
  const seat = { ...place, assessor: 'Ann' };
  const codes = store.sittings.cupsOf(seat).map(({ code }) => code);
  return { ...drawn, place, seat, codes };
}

const answer = (code: string, over: Partial<AnswerMessage> = {}): AnswerMessage => ({
  id: messageId([code, JSON.stringify(over)]),
  code,
  question: 'bitter',
  value: 50,
  phone,
  count: 1,
  ...over,
});

describe('a sitting that is drawn', () => {
  test('gives every taster each mix and the reference once, under codes of their own', () => {
    const { trial, sitting, tokens } = drawnTrial(context, {
      assessors: ['Ann', 'Bob', 'Cy'],
      replicates: 2,
    });
    const cups = store.sittings.cups(trial, sitting);
    for (const assessor of ['Ann', 'Bob', 'Cy']) {
      const own = cups.filter((cup) => cup.assessor === assessor);
      expect(own.map(({ position }) => position)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
      const poured = own.map(({ mix, replicate }) => `${mix}/${replicate}`).sort();
      expect(poured).toEqual(['qa1', 'qb2', 'qc3', 'reference'].flatMap((m) => [`${m}/1`, `${m}/2`]));
      expect(new Set(own.slice(0, 4).map(({ mix }) => mix)).size).toBe(4);
    }
    expect(new Set(cups.map(({ code }) => code)).size).toBe(cups.length);
    expect(new Set(tokens.map(({ token }) => token)).size).toBe(3);
    for (const { token } of tokens) expect(token).toMatch(/^[\w-]{43}$/);
  });

  test('never gives a taster a code again within the trial', () => {
    const trial = weighedTrial(context);
    for (let n = 0; n < 30; n++)
      drawSitting(context, { trial, round: 1 }, sittingRequest({ label: `S${n}`, warmup: true }));
    const codes = store.sittings
      .list(trial)
      .flatMap(({ sitting }) => store.sittings.cupsOf({ trial, sitting, assessor: 'Ann' }));
    expect(codes.length).toBe(30 * 5);
    expect(new Set(codes.map(({ code }) => code)).size).toBe(codes.length);
  });

  test('begins with the warm-up where one is poured, which no sheet leaves out', () => {
    const { trial, sitting } = drawnTrial(context, { warmup: true, reference: false });
    const sheet = pouringSheet(store, { trial, sitting });
    expect(sheet.trays.map(({ cups }) => cups.map(({ mix }) => mix)[0])).toEqual(['warmup', 'warmup']);
    const ballot = ballotView(store, { trial, sitting, assessor: 'Ann' }, []);
    expect(ballot.cups.map(({ warmup }) => warmup)).toEqual([true, false, false, false]);
    expect(sheet.doses).toEqual({ qa1: 0.3, qb2: 0.3, qc3: 0.3 });
    expect(sheet.cupMillilitres).toBe(30);
    // Who pours and who tastes read the same words.
    expect(sheet.cautions).toEqual(ballot.consent.cautions);
    expect(sheet.cautions).toEqual(['Holds citrus.']);
  });

  test('keeps only the hash of a link, and a renewed link replaces it', () => {
    const { trial, sitting, tokens } = drawnTrial(context);
    const { token, assessor } = tokens[0]!;
    expect(JSON.stringify(store.documents.write(trial))).not.toContain(token);
    expect(store.sittings.seatOf(hashToken(token))).toEqual({ trial, sitting, assessor });
    expect(store.sittings.seatOf(token)).toBeNull();
    const renewed = renewToken(context, { trial, sitting }, assessor);
    expect(store.sittings.seatOf(hashToken(token))).toBeNull();
    expect(store.sittings.seatOf(hashToken(renewed))).toEqual({ trial, sitting, assessor });
  });

  test.each([
    ['an assessor twice', { assessors: ['Ann', 'Ann'] }, 'assessors'],
    ['a mix twice', { mixes: ['qa1', 'qa1'] }, 'mixes'],
    ['a mix of no round', { mixes: ['zz'] }, 'mixes'],
    ['somebody who knows but does not taste', { knowing: ['Eve'] }, 'knowing'],
  ])('refuses %s', (_name, given, at) => {
    const trial = weighedTrial(context);
    const refusal = refusalOf(() => drawSitting(context, { trial, round: 1 }, sittingRequest(given)));
    expect([refusal.code, refusal.faults[0]!.where]).toEqual(['bad-input', at]);
    expect(store.sittings.list(trial)).toEqual([]);
  });

  test('refuses bottles that are not weighed and a label that is taken', () => {
    const planned = plannedTrial(context);
    const unweighed = refusalOf(() => drawSitting(context, { trial: planned, round: 1 }, sittingRequest()));
    expect([unweighed.code, unweighed.message]).toEqual(['conflict', 'not weighed yet: qa1, qb2, qc3']);
    const { trial } = drawnTrial(context);
    expect(refusalOf(() => drawSitting(context, { trial, round: 1 }, sittingRequest())).code).toBe(
      'conflict',
    );
  });
});

describe('a taster who comes late', () => {
  test('gets the same cups, in an order and under codes that fit those of the others', () => {
    const { place } = openTrial({ assessors: ['Ann', 'Bob', 'Cy'], warmup: true });
    addTaster(context, place, { assessor: 'Dee', knowing: true });
    const cups = store.sittings.cups(place.trial, place.sitting);
    const own = cups.filter(({ assessor }) => assessor === 'Dee');
    expect(own[0]!.mix).toBe('warmup');
    expect(own.map(({ mix }) => mix).sort()).toEqual(['qa1', 'qb2', 'qc3', 'reference', 'warmup']);
    expect(new Set(cups.map(({ code }) => code)).size).toBe(cups.length);
    // Four mixes, four tasters: each mix can stand in each place once, and the fourth order is what makes it so.
    for (let position = 2; position <= 5; position++)
      expect(new Set(cups.filter((cup) => cup.position === position).map(({ mix }) => mix)).size).toBe(4);
    expect(store.sittings.seats(place.trial, place.sitting).at(-1)).toMatchObject({
      assessor: 'Dee',
      place: 3,
      knowing: true,
    });
    expect(refusalOf(() => addTaster(context, place, { assessor: 'Dee', knowing: false })).code).toBe(
      'conflict',
    );
    openKey(context, place, 'over');
    expect(refusalOf(() => addTaster(context, place, { assessor: 'Eve', knowing: false })).code).toBe(
      'conflict',
    );
  });
});

describe('ethanol', () => {
  const strong = (cap?: number, readability = 0.0001) => ({
    ...smallBrief(),
    batch: { ...smallBrief().batch, readability },
    concentrate: { carrier: 'ethanol-96', percentVol: 76, fillMillilitres: 25 },
    drink: { ...smallBrief().drink!, percentVol: 5, cupMillilitres: 40 },
    ...(cap === undefined ? {} : { caps: { ethanolGramsPerSitting: cap } }),
  });
  // By hand: 40 mL at 5 + 0.3 / 1000 * 76 = 5.0228 % vol, 0.78924 g/mL: 1.585678 g a cup, 4 cups.
  const fourCups = 4 * 1.58567782;

  test('of one taster is counted, and a sitting over the cap is refused with what would fit', () => {
    const trial = weighedTrial(context);
    changeBrief(context, trial, strong());
    const { sitting } = drawSitting(context, { trial, round: 1 }, sittingRequest());
    const summary = roundView(context, trial, 1).sittings.find((one) => one.sitting === sitting)!;
    // The balance rounds the concentrate of a jug to 0.0001 g of some 0.03 g: 1e-4 g of ethanol in all.
    expect(Math.abs(summary.ethanolGrams! - fourCups)).toBeLessThan(1e-4);
    changeBrief(context, trial, strong(6));
    const refusal = refusalOf(() =>
      drawSitting(context, { trial, round: 1 }, sittingRequest({ label: 'B' })),
    );
    expect([refusal.code, refusal.message]).toEqual([
      'conflict',
      '4 cups hold 6.3 g of ethanol a taster, the brief allows 6 g: pour at most 3 or smaller ones',
    ]);
    expect(store.sittings.list(trial).length).toBe(1);
  });

  test('counts the spirit of the tenfold dilution where the jugs need one', () => {
    const trial = weighedTrial(context);
    changeBrief(context, trial, strong(undefined, 0.01));
    const { sitting } = drawSitting(context, { trial, round: 1 }, sittingRequest());
    const summary = roundView(context, trial, 1).sittings.find((one) => one.sitting === sitting)!;
    // By hand, per litre at 0.3 mL: 0.255 g of concentrate at 76 % vol (0.8701 g/mL, OIML R 22) and nine times its
    // mass of 96 % spirit: 0.3 mL · 0.76 + 2.35 g / 0.80742 g/mL · 0.96 = 3.02 mL in a litre: 0.302 % vol more.
    const more = 4 * 40 * 0.00302 * 0.78924;
    expect(Math.abs(summary.ethanolGrams! - 4 * 40 * 0.05 * 0.78924 - more)).toBeLessThan(0.02 * more);
  });

  test('is not guessed at where the brief says too little', () => {
    const { trial } = drawnTrial(context);
    expect(roundView(context, trial, 1).sittings[0]!.ethanolGrams).toBeNull();
  });
});

describe('the life of a sitting', () => {
  test('poured, open, closed, open again, and over once its key is open', () => {
    const { trial, sitting } = drawnTrial(context);
    const place = { trial, sitting };
    expect(refusalOf(() => closeSitting(context, place)).code).toBe('conflict');
    expect(openSitting(context, place)).toMatchObject({
      state: 'open',
      key: 'sealed',
      cups: 8,
      answersExpected: 16,
    });
    expect(closeSitting(context, place).state).toBe('closed');
    expect(openSitting(context, place).state).toBe('open');
    closeSitting(context, place);
    expect(openKey(context, place, 'all ballots are in')).toMatchObject({ state: 'closed', key: 'opened' });
    expect(refusalOf(() => openSitting(context, place)).message).toContain('the key is open');
    const acts = store.acts.list(trial).map(({ act }) => act);
    expect(acts.slice(-5)).toEqual([
      'opened the sitting',
      'closed the sitting',
      'opened the sitting',
      'closed the sitting',
      'opened the key: all ballots are in',
    ]);
    openKey(context, place, 'again');
    expect(store.acts.list(trial).length).toBe(acts.length);
  });

  test('bottles said to have rested before they have: nothing is blocked, and the step keeps saying so', () => {
    const trial = weighedTrial(context);
    const view = markStep(context, { trial, round: 1 }, { step: 'rest', done: true, note: '' });
    expect(view.steps[2]).toEqual({
      step: 'rest',
      state: 'done',
      says: expect.stringMatching(/^Said to have rested; the youngest bottle has had .* of 24 h\.$/),
    });
    const later = { ...context, now: () => new Date(NOON.getTime() + 30 * 3_600_000) };
    expect(roundView(later, trial, 1).steps[2]!.says).toBe('Rested.');
  });

  test('moves the round’s steps on, each with a sentence', () => {
    const { trial, place, seat, codes } = openTrial();
    const steps = () =>
      roundView(context, trial, 1).steps.map(({ step, state, says }) => [step, state, says]);
    expect(steps().slice(2)).toEqual([
      ['rest', 'done', 'Rested.'],
      ['dose', 'done', 'Dosed at 0.3 mL a litre.'],
      ['pour', 'done', '1 sitting drawn, 8 cups.'],
      ['taste', 'now', 'Tuesday open: 0 of 16 answers in.'],
      ['read', 'waiting', 'Sealed: Tuesday. Open the key once the last ballot is in.'],
    ]);
    takeAnswers(context, seat, [answer(codes[0]!)]);
    closeSitting(context, place);
    expect(steps()[5]).toEqual(['taste', 'done', 'Tasted: 1 of 16 answers in.']);
    openKey(context, place, 'done');
    expect(steps()[6]).toEqual(['read', 'now', 'The keys are open: read the scores.']);
  });

  test('marks of steps are kept and can be taken back', () => {
    const trial = weighedTrial(context);
    const state = (step: 'rest' | 'dose') =>
      roundView(context, trial, 1).steps.find((s) => s.step === step)!.state;
    expect(state('rest')).toBe('now');
    markStep(context, { trial, round: 1 }, { step: 'rest', done: true, note: '' });
    expect([state('rest'), state('dose')]).toEqual(['done', 'now']);
    markStep(context, { trial, round: 1 }, { step: 'rest', done: false, note: 'not yet' });
    expect(state('rest')).toBe('now');
    expect(store.rounds.marks(trial).length).toBe(2);
  });
});

describe('answers', () => {
  test('are stored once, acknowledged as often as they come', () => {
    const { trial, sitting, seat, codes } = openTrial();
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
    const { seat, codes } = openTrial();
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
    const { place, seat, codes } = openTrial();
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
    const { place, seat, codes } = openTrial();
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
    const { place, codes } = openTrial();
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
    const { place, codes } = openTrial();
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
    const { place, seat, codes } = openTrial();
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
    const { place } = openTrial();
    const order = (assessor: string) =>
      ballotView(store, { ...place, assessor }, []).questions.map(({ id }) => id);
    expect([order('Ann'), order('Bob')]).toEqual([
      ['bitter', 'liking'],
      ['liking', 'bitter'],
    ]);
  });

  test('has buttons for short scales of whole numbers and rests as the sitting was drawn', () => {
    const { place } = openTrial({ replicates: 2, restSeconds: 90, longRestSeconds: 500, warmup: true });
    const ballot = ballotView(store, { ...place, assessor: 'Ann' }, ['http://x:1']);
    expect(ballot.questions.map(({ form }) => form)).toEqual(['line', 'points']);
    expect(ballot.cups.map(({ restSeconds }) => restSeconds)).toEqual([0, 90, 90, 90, 90, 500, 90, 90, 90]);
    expect(ballot.addresses).toEqual(['http://x:1']);
  });

  test('shows what to know before tasting, and keeps only that it was accepted, and when', () => {
    const { place, seat } = openTrial();
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
    const { place, seat, codes } = openTrial();
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
