import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { BallotView } from '../../../trials/schema/ballot.ts';
import {
  finishStep,
  giveAnswer,
  rankNext,
  receiveBallot,
  settle,
  stepBack,
  stepsOf,
  unanswered,
  whereNow,
} from '../../../web/ballot/journey.ts';
import { type Kept, NOTHING_KEPT } from '../../../web/ballot/phone-store.ts';

const line = {
  id: 'bitter',
  name: 'Bitter',
  scale: [0, 100] as [number, number],
  form: 'line' as const,
  words: [],
};
const ranking = { ...line, id: 'order', name: 'Most bitter', form: 'ranking' as const };

function ballotOf(over: Partial<BallotView> = {}): BallotView {
  const cup = (position: number, code: string, restSeconds: number) => ({
    position,
    code,
    part: position,
    warmup: position === 1,
    restSeconds,
  });
  return {
    sitting: 'Tuesday',
    taster: 'P1',
    seat: 's1.0',
    drink: 'soda',
    state: 'open',
    consent: { version: 'v', cautions: [], given: true },
    questions: [line, ranking],
    goBack: false,
    cups: [cup(1, '248', 0), cup(2, '573', 60), cup(3, '864', 60)],
    answers: [],
    addresses: [],
    ...over,
  };
}

function begun(over: Partial<BallotView> = {}): Kept {
  return receiveBallot({ ...NOTHING_KEPT, phone: 'a'.repeat(32) }, ballotOf(over));
}

const mark = (kept: Kept, code: string, value = 40) => giveAnswer(kept, code, 'bitter', value);

describe('the way through a ballot', () => {
  test('cup, rest, cup, and the ranking of all but the practice cup at the end', () => {
    let kept = begun();
    expect(whereNow(kept, 0)).toEqual({ at: 'cup', step: 0 });
    kept = finishStep(mark(kept, '248'), 1000);
    expect(whereNow(kept, 1000)).toEqual({ at: 'rest', step: 1, seconds: 60 });
    expect(whereNow(kept, 61_000)).toEqual({ at: 'cup', step: 1 });
    kept = finishStep(mark(kept, '573'), 61_000);
    kept = finishStep(mark(kept, '864'), 200_000);
    expect(whereNow(kept, 200_000)).toEqual({ at: 'ranking', step: 3 });
    expect(stepsOf(kept.ballot!)[3]!.cups.map(({ code }) => code)).toEqual(['573', '864']);
    expect(whereNow(finishStep(kept, 0), 0)).toEqual({ at: 'end' });
  });

  test('a clock set back never lengthens a rest', () => {
    const kept = finishStep(mark(begun(), '248'), 1_000_000);
    expect(whereNow(kept, 0)).toEqual({ at: 'rest', step: 1, seconds: 60 });
  });

  test('leads back only where the maker allows it, and forward again without a second rest', () => {
    const strict = finishStep(mark(begun(), '248'), 0);
    expect(stepBack(strict)).toBe(strict);
    let free = finishStep(mark(begun({ goBack: true }), '248'), 0);
    free = finishStep(mark(free, '573'), 100_000);
    free = stepBack(stepBack(free));
    expect(whereNow(free, 100_000)).toEqual({ at: 'cup', step: 0 });
    expect(whereNow(finishStep(free, 100_000), 100_000)).toEqual({ at: 'cup', step: 1 });
    expect(stepBack({ ...free, finished: 0 }).finished).toBe(0);
  });

  test('goes on after the last step answered in full when another phone takes the link over', () => {
    const answers = ['248', '573'].map((code) => ({ code, question: 'bitter', value: 10 }));
    const kept = begun({ answers });
    expect(kept.finished).toBe(2);
    expect(kept.given['573 bitter']).toBe(10);
  });

  test('a set of a difference test is one step, answered under its first cup', () => {
    const cups = ['248', '573', '864'].map((code, i) => ({
      position: i + 1,
      code,
      part: 1,
      warmup: false,
      restSeconds: 0,
    }));
    const choice = { ...line, id: 'choice', form: 'triangle' as const };
    const kept = begun({ cups, questions: [choice] });
    const [step] = stepsOf(kept.ballot!);
    expect([stepsOf(kept.ballot!).length, unanswered(kept, step!)]).toEqual([1, 1]);
    expect(unanswered(giveAnswer(kept, '248', 'choice', 864), step!)).toBe(0);
  });
});

describe('answers on the phone', () => {
  test('given twice are one; a changed mind replaces what still waits; ids are made of phone and count', () => {
    let kept = mark(begun(), '248', 40);
    expect(mark(kept, '248', 40)).toBe(kept);
    kept = mark(kept, '248', 55);
    expect(kept.queue).toEqual([
      {
        id: `${'a'.repeat(24)}00000002`,
        code: '248',
        question: 'bitter',
        value: 55,
        phone: 'a'.repeat(32),
        count: 2,
      },
    ]);
    expect(settle(kept, [kept.queue[0]!.id]).queue).toEqual([]);
  });

  test('that wait win over what the server says, others do not', () => {
    const kept = mark(begun(), '248', 55);
    const answers = [
      { code: '248', question: 'bitter', value: 1 },
      { code: '573', question: 'bitter', value: 2 },
    ];
    const joined = receiveBallot(kept, ballotOf({ answers }));
    expect([joined.given['248 bitter'], joined.given['573 bitter']]).toEqual([55, 2]);
  });
});

describe('a ranking by tapping', () => {
  test('always holds the ranks 1 to n, each once, whatever is tapped', () => {
    const codes = ['248', '573', '864', '927'];
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...codes), { maxLength: 30 }), (taps) => {
        const ranks = new Map<string, number>();
        for (const tap of taps) {
          const had = ranks.has(tap);
          for (const { code, rank } of rankNext(ranks, tap)) {
            if (rank === null) ranks.delete(code);
            else ranks.set(code, rank);
          }
          expect(ranks.has(tap)).toBe(!had);
          expect([...ranks.values()].sort()).toEqual(Array.from(ranks, (_, i) => i + 1));
        }
      }),
      { seed: 9, numRuns: 300 },
    );
  });
});
