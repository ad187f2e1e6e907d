import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { AnswerMessage } from '../../../trials/schema/ballot.ts';
import { messageIdOf, readCode, writeCodes } from '../../../trials/schema/waiting-code.ts';

const QUESTIONS = ['bitter', 'fresh', 'liking', 'notes'];
const phone = '0123456789abcdef0123456789abcdef';

const message = fc.record({
  code: fc.integer({ min: 100, max: 999 }).map(String),
  question: fc.constantFrom(...QUESTIONS),
  value: fc.oneof(
    fc.constant(null),
    fc.integer({ min: 0, max: 100 }),
    fc.double({ min: -50, max: 1000, noNaN: true, noDefaultInfinity: true }),
    fc.string({ unit: 'grapheme', minLength: 1, maxLength: 40 }),
  ),
});

function queueOf(said: readonly Pick<AnswerMessage, 'code' | 'question' | 'value'>[]): AnswerMessage[] {
  return said.map((one, i) => ({ ...one, id: messageIdOf(phone, i + 1), phone, count: i + 1 }));
}

describe('waiting answers as codes', () => {
  test('come back as they were, whatever they hold', () => {
    fc.assert(
      fc.property(fc.array(message, { minLength: 1, maxLength: 60 }), (said) => {
        const queue = queueOf(said);
        const codes = writeCodes('s2.5', queue, QUESTIONS);
        const read = codes.map((code) => readCode(code, () => [...QUESTIONS].reverse()));
        const answers = read.flatMap((one) => {
          if (typeof one === 'string') throw new Error(one);
          expect([one.seat, one.phone, one.parts]).toEqual(['s2.5', phone, codes.length]);
          return one.answers;
        });
        const plain = (value: unknown) => (Object.is(value, -0) ? 0 : value);
        expect(answers.map(({ code, question, value }) => [code, question, plain(value)])).toEqual(
          queue.map(({ code, question, value }) => [code, question, plain(value)]),
        );
        expect(answers.map(({ count }) => messageIdOf(phone, count))).toEqual(queue.map(({ id }) => id));
      }),
      { seed: 6, numRuns: 200 },
    );
  });

  test('are made of signs that square codes pack best, and short', () => {
    const queue = queueOf(
      Array.from({ length: 120 }, (_, i) => ({
        code: String(200 + i),
        question: QUESTIONS[i % 3]!,
        value: i % 101,
      })),
    );
    const codes = writeCodes('s1.0', queue, QUESTIONS);
    expect(codes.join('')).toMatch(/^[0-9A-Z $%*+\-./:]+$/);
    expect(Math.max(...codes.map(({ length }) => length))).toBeLessThan(600);
    expect(codes.length).toBeLessThanOrEqual(4);
  });

  test('copied with blanks and small letters are still read', () => {
    const [code = ''] = writeCodes(
      's1.0',
      queueOf([{ code: '573', question: 'bitter', value: 62.5 }]),
      QUESTIONS,
    );
    const copied = `${code.slice(0, 9)}\n ${code.slice(9).toLowerCase()} `;
    expect(readCode(copied, () => QUESTIONS)).toMatchObject({ answers: [{ code: '573', value: 62.5 }] });
  });

  test('with any one sign wrong, missing or two changed over are noticed', () => {
    const [code = ''] = writeCodes(
      's1.0',
      queueOf([
        { code: '573', question: 'bitter', value: 62.5 },
        { code: '482', question: 'liking', value: 7 },
      ]),
      QUESTIONS,
    );
    for (let i = 0; i < code.length; i++) {
      const other = code[i] === '7' ? '1' : '7';
      const faults = [
        code.slice(0, i) + other + code.slice(i + 1),
        code.slice(0, i) + code.slice(i + 1),
        code.slice(0, i) + (code[i + 1] ?? '') + code[i] + code.slice(i + 2),
      ];
      for (const fault of faults.filter((one) => one !== code))
        expect(typeof readCode(fault, () => QUESTIONS), fault).toBe('string');
    }
  });

  test('of something else say so', () => {
    expect(readCode('hello', () => [])).toBe('this is not a code from a ballot');
    const [code = ''] = writeCodes(
      's1.0',
      queueOf([{ code: '573', question: 'liking', value: 6 }]),
      QUESTIONS,
    );
    expect(readCode(code, () => [])).toBe('this code does not fit this sitting');
  });
});
