import { describe, expect, test } from 'vitest';
import { readScores } from '../../../trials/files/read-scores.ts';
import { ballotView } from '../../../trials/rounds/ballot-view.ts';
import { takeCarried } from '../../../trials/rounds/carry-code.ts';
import { changeBrief } from '../../../trials/rounds/create-trial.ts';
import { drawSitting } from '../../../trials/rounds/draw-sitting.ts';
import { gather } from '../../../trials/rounds/gather.ts';
import { liveView } from '../../../trials/rounds/live.ts';
import { openKey, openSitting } from '../../../trials/rounds/sitting-life.ts';
import { sittingSummary } from '../../../trials/rounds/sitting-summary.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { exportTrial, importTrial } from '../../../trials/rounds/transfer.ts';
import { trialTables } from '../../../trials/rounds/trial-tables.ts';
import type { AnswerValue } from '../../../trials/schema/ballot.ts';
import { messageIdOf, writeCodes } from '../../../trials/schema/waiting-code.ts';
import { manyForms } from '../../support/many-forms.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { sittingRequest, weighedTrial } from '../../support/small-trial.ts';
import { contextOf, NOON, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);
const phone = messageId(['phone']);

function openForms(given = {}) {
  const trial = weighedTrial(context);
  changeBrief(context, trial, manyForms());
  const { sitting } = drawSitting(context, { trial, round: 1 }, sittingRequest({ warmup: true, ...given }));
  const place = { trial, sitting };
  openSitting(context, place);
  const seat = { ...place, assessor: 'Ann' };
  const codes = store.sittings.cupsOf(seat).map(({ code }) => code);
  return { trial, place, seat, codes };
}

let count = 0;
const say = (code: string, question: string, value: AnswerValue) => {
  count += 1;
  return { id: messageIdOf(phone, count), code, question, value, phone, count };
};

describe('a ballot with every form', () => {
  test('tells each question’s form and words, scales first, and rests two minutes where the taste lingers', () => {
    const { seat } = openForms({ goBack: true });
    const ballot = ballotView(store, seat, []);
    expect(ballot.questions.map(({ id, form, words }) => [id, form, words])).toEqual([
      ['bitter', 'line', ['faint', 'strong']],
      ['fresh', 'categories', ['flat', 'fresh', 'sharp']],
      ['liking', 'liking', []],
      ['sweet', 'just-about-right', []],
      ['order', 'ranking', []],
      ['notes', 'describe', ['soap', 'pith']],
    ]);
    expect(ballot.goBack).toBe(true);
    expect(ballot.cups.map(({ restSeconds }) => restSeconds)).toEqual([0, 120, 120, 120, 120]);
    const bob = ballotView(store, { ...seat, assessor: 'Bob' }, []).questions.map(({ id }) => id);
    expect(bob).toEqual(['fresh', 'liking', 'sweet', 'bitter', 'order', 'notes']);
  });

  test('takes what fits each form and names what does not', () => {
    const { seat, codes } = openForms();
    const [practice = '', cup = ''] = codes;
    const good = [
      say(cup, 'bitter', 62.5),
      say(cup, 'fresh', 2),
      say(cup, 'liking', 9),
      say(cup, 'sweet', null),
      say(cup, 'notes', 'soap, a little rind'),
      say(cup, 'order', 4),
      say(practice, 'bitter', 3),
    ];
    const bad: [AnswerValue, string, string, string][] = [
      [2.5, 'fresh', cup, 'this question takes whole numbers'],
      [0, 'liking', cup, 'the scale runs from 1 to 9'],
      ['soap', 'sweet', cup, 'this question takes a mark, not words'],
      [3, 'notes', cup, 'this question takes words'],
      [5, 'order', cup, 'ranks run from 1 to 4'],
      [1, 'order', practice, 'the practice cup has no rank'],
    ];
    const wrong = bad.map(([value, question, code]) => say(code, question, value));
    const receipt = takeAnswers(context, seat, [...good, ...wrong]);
    expect(receipt.stored).toEqual(good.map(({ id }) => id));
    expect(receipt.refused.map(({ because }) => because)).toEqual(bad.map(([, , , because]) => because));
    const there = ballotView(store, seat, []).answers.find(({ question }) => question === 'notes');
    expect(there).toEqual({ code: cup, question: 'notes', value: 'soap, a little rind' });
  });

  test('is complete when every cup has its marks and every counted cup its rank', () => {
    const { place, seat, codes } = openForms();
    const summary = () =>
      sittingSummary(store, place.trial, store.sittings.find(place.trial, place.sitting)!);
    // Two tasters; five cups of five questions each, four of them ranked.
    expect(summary().answersExpected).toBe(2 * (5 * 5 + 4));
    for (const code of codes) {
      const marks = ['bitter', 'fresh', 'liking', 'sweet', 'notes'].map((id) => say(code, id, null));
      takeAnswers(context, seat, marks);
    }
    expect(liveView(store, place, NOON).trays.map(({ filled, cups }) => [filled, cups])).toEqual([
      [5, 5],
      [0, 5],
    ]);
    takeAnswers(
      context,
      seat,
      codes.slice(1).map((code, i) => say(code, 'order', i + 1)),
    );
    expect(summary().answers).toBe(29);
    expect(liveView(store, place, NOON).trays[0]!.filled).toBe(5);
  });

  test('gives scales to the models, ranks and words beside them, also through its files', () => {
    const { place, seat, codes } = openForms();
    const cup = codes[1]!;
    takeAnswers(context, seat, [say(cup, 'bitter', 50), say(cup, 'notes', 'pith'), say(cup, 'order', 2)]);
    openKey(context, place, 'done');
    const { servings, asides } = gather(store, place.trial, manyForms());
    expect(servings.map(({ scores }) => scores)).toEqual([[50, null, null, null]]);
    const own = asides.map(({ question, assessor, mix, value }) => [question, assessor, mix, value]);
    const { mix } = servings[0]!;
    expect(own.sort()).toEqual([
      ['notes', 'Ann', mix, 'pith'],
      ['order', 'Ann', mix, 2],
    ]);
    const scores = trialTables(store, place.trial).find(({ name }) => name === 'scores.csv')!.text;
    expect(scores.split('\r\n').slice(0, 2)).toEqual([
      'mix,assessor,session,replicate,position,bitter,fresh,liking,sweet,order,notes',
      `${mix},Ann,Tuesday,1,${servings[0]!.position},50,,,,2,pith`,
    ]);
    const read = readScores(scores, 'scores.csv', { brief: manyForms() });
    expect(read.asides.map(({ question, value }) => [question, value])).toEqual([
      ['order', 2],
      ['notes', 'pith'],
    ]);
  });

  test('goes out of the house and comes in again, also from before there were forms', () => {
    const { place, seat, codes } = openForms();
    takeAnswers(context, seat, [say(codes[1]!, 'notes', 'pith'), say(codes[1]!, 'bitter', 4)]);
    const document = JSON.parse(JSON.stringify(exportTrial(context, place.trial)));
    const twin = importTrial(context, document);
    expect(ballotView(store, { ...seat, trial: twin.trial }, [])).toEqual(ballotView(store, seat, []));
    for (const table of ['sittings', 'cups', 'answers', 'seats'])
      for (const row of document.tables[table])
        for (const key of ['manner', 'part', 'words', 'absent']) delete row[key];
    const old = importTrial(context, document);
    const view = ballotView(store, { ...seat, trial: old.trial }, []);
    expect(view.cups).toEqual(ballotView(store, seat, []).cups);
    expect(view.goBack).toBe(false);
  });
});

describe('answers read in by code', () => {
  test('count once, also when the phone sends them after all, and the code may be read twice', () => {
    const { place, seat, codes } = openForms();
    const queue = codes.map((code, i) => say(code, 'bitter', 10 + i));
    const ballot = ballotView(store, seat, []);
    const [text = ''] = writeCodes(
      ballot.seat,
      queue,
      ballot.questions.map(({ id }) => id),
    );
    const carried = takeCarried(context, place.trial, text);
    expect(carried).toEqual({
      sitting: place.sitting,
      assessor: 'Ann',
      part: 1,
      parts: 1,
      stored: 5,
      refused: [],
      late: false,
    });
    takeCarried(context, place.trial, text);
    expect(takeAnswers(context, seat, queue).stored).toHaveLength(5);
    expect(store.answers.messages(seat).map(({ message }) => message)).toEqual(queue.map(({ id }) => id));
  });

  test('with a slip are refused whole, in words', () => {
    const { place, codes } = openForms();
    const [text = ''] = writeCodes(
      's1.0',
      [say(codes[0]!, 'bitter', 10)],
      ['bitter', 'fresh', 'liking', 'sweet', 'order', 'notes'],
    );
    const slip = text.replace(codes[0]!, codes[1]!);
    expect(refusalOf(() => takeCarried(context, place.trial, slip)).message).toMatch(/sign is wrong/);
    expect(refusalOf(() => takeCarried(context, place.trial, 'soda')).message).toMatch(/not a code/);
    expect(store.answers.answered(place.trial, place.sitting)).toEqual([]);
  });
});
