import { describe, expect, test } from 'vitest';
import { addTaster } from '../../../trials/rounds/add-taster.ts';
import { ballotView } from '../../../trials/rounds/ballot-view.ts';
import { changeBrief } from '../../../trials/rounds/create-trial.ts';
import { drawSitting } from '../../../trials/rounds/draw-sitting.ts';
import { markStep } from '../../../trials/rounds/mark-step.ts';
import { pouringSheet } from '../../../trials/rounds/pouring-sheet.ts';
import { roundView } from '../../../trials/rounds/round-view.ts';
import { closeSitting, openKey, openSitting, renewToken } from '../../../trials/rounds/sitting-life.ts';
import { takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { hashToken } from '../../../trials/rounds/tokens.ts';
import { answer, openTrial } from '../../support/open-trial.ts';
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
    const { place } = openTrial(context, { assessors: ['Ann', 'Bob', 'Cy'], warmup: true });
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
    const { trial, place, seat, codes } = openTrial(context);
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
