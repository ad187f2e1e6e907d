import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openSitting } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import type { AnswerMessage } from '../../../trials/schema/ballot.ts';
import { drawnTrial } from '../../support/small-trial.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);
const PHONES = ['a', 'b'].map((name) => messageId(['phone', name]));

/** A sitting of its own with one seat, opened. */
function openSeat() {
  const { trial, sitting } = drawnTrial(context);
  openSitting(context, { trial, sitting });
  const seat = { trial, sitting, assessor: 'Ann' };
  return { seat, codes: store.sittings.cupsOf(seat).map(({ code }) => code) };
}

/** What counts, by the rule in words: of each phone the answer with its highest count; of these the newest taken. */
function countedByRule(taken: readonly AnswerMessage[]): Map<string, AnswerMessage['value']> {
  const result = new Map<string, AnswerMessage['value']>();
  const keys = new Set(taken.map(({ code, question }) => `${code} ${question}`));
  for (const key of keys) {
    const own = taken.map((m, at) => ({ ...m, at })).filter((m) => `${m.code} ${m.question}` === key);
    const last = PHONES.flatMap((phone) => {
      const of = own.filter((m) => m.phone === phone);
      const highest = Math.max(...of.map(({ count }) => count));
      return of.filter(({ count }) => count === highest).slice(-1);
    });
    result.set(key, last.sort((x, y) => x.at - y.at).at(-1)!.value);
  }
  return result;
}

describe('the answer that counts', () => {
  test('is right whatever is doubled, dropped, delayed or reordered, also with two phones', () => {
    const message = fc.record({
      cup: fc.nat(2),
      value: fc.oneof(fc.integer({ min: 0, max: 100 }), fc.constant(null)),
      phone: fc.nat(1),
      late: fc.nat(12),
      copies: fc.integer({ min: 0, max: 3 }),
    });
    fc.assert(
      fc.property(fc.array(message, { minLength: 1, maxLength: 14 }), (said) => {
        const { seat, codes } = openSeat();
        const counts = [0, 0];
        const sent = said.flatMap(({ cup, value, phone, late, copies }, i) => {
          const count = ++counts[phone]!;
          const id = messageId([String(i)]);
          const one: AnswerMessage = {
            id,
            code: codes[cup]!,
            question: 'bitter',
            value,
            phone: PHONES[phone]!,
            count,
          };
          return Array.from({ length: copies }, (_, copy) => ({ one, at: i + late * (copy + 1) }));
        });
        const arriving = sent.sort((a, b) => a.at - b.at).map(({ one }) => one);
        for (const one of arriving) expect(takeAnswers(context, seat, [one]).stored).toEqual([one.id]);
        const firsts = arriving.filter((one, i) => arriving.findIndex((other) => other.id === one.id) === i);
        const counted = store.answers.counted(seat.trial, seat.sitting, false);
        expect(new Map(counted.map((a) => [`${a.code} ${a.question}`, a.value]))).toEqual(
          countedByRule(firsts),
        );
        expect(store.answers.messages(seat).map((m) => m.message)).toEqual(firsts.map((m) => m.id));
      }),
      { seed: 62, numRuns: 60 },
    );
  });
});

describe('what is only ever added to', () => {
  test('cannot be changed or deleted, whoever asks', async () => {
    const { default: Database } = await import('better-sqlite3');
    const { seat, codes } = openSeat();
    const phone = PHONES[0]!;
    takeAnswers(context, seat, [
      { id: messageId(['x']), code: codes[0]!, question: 'bitter', value: 5, phone, count: 1 },
    ]);
    const db = new Database(store.file);
    for (const table of ['acts', 'answers', 'briefs', 'weighings']) {
      expect(db.prepare(`SELECT count(*) AS n FROM ${table}`).get()).not.toEqual({ n: 0 });
      expect(() => db.prepare(`DELETE FROM ${table}`).run()).toThrow(/only ever added to/);
      expect(() => db.prepare(`UPDATE ${table} SET trial = 'x'`).run()).toThrow(/only ever added to/);
    }
    db.close();
  });

  test('an answer needs a cup that stands before its taster', () => {
    const { seat } = openSeat();
    const answer = {
      message: 'm',
      code: '999',
      question: 'bitter',
      value: 1,
      phone: 'p',
      count: 1,
      late: false,
      received: '',
    };
    expect(() => store.write(() => store.answers.add(seat, answer))).toThrow(/break a rule/);
  });
});
