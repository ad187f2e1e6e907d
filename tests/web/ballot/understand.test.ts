import { expect, test } from 'vitest';
import { AnswerReceipt, BallotView } from '../../../trials/schema/ballot.ts';
import { isBallot, isReceipt, refusalOf } from '../../../web/ballot/understand.ts';

const BALLOT: BallotView = {
  sitting: 'Tuesday',
  taster: 'P1',
  seat: 's1.0',
  drink: 'soda',
  state: 'open',
  consent: { version: 'v', cautions: ['Holds citrus.'], given: true },
  questions: [{ id: 'bitter', name: 'Bitter', scale: [0, 100], form: 'line', words: ['low', 'high'] }],
  goBack: false,
  cups: [{ position: 1, code: '573', part: 1, warmup: false, restSeconds: 0 }],
  answers: [{ code: '573', question: 'bitter', value: null }],
  addresses: ['http://x:1'],
};
const RECEIPT = { stored: ['a'], refused: [{ id: 'b', because: 'c' }], late: false };

/** Every document that differs from this one by a value gone or of another kind, at any depth. */
function spoiled(value: unknown): unknown[] {
  if (Array.isArray(value))
    return value.flatMap((entry, i) =>
      [...spoiled(entry), 7.5e300, {}, undefined].map((other) => value.map((v, k) => (k === i ? other : v))),
    );
  if (typeof value === 'object' && value !== null)
    return Object.entries(value).flatMap(([key, entry]) =>
      [...spoiled(entry), undefined, null, 3, 'x', true, [], {}].map((other) => ({ ...value, [key]: other })),
    );
  return [];
}

test.each([
  ['ballot', BALLOT, BallotView, isBallot],
  ['receipt', RECEIPT, AnswerReceipt, isReceipt],
] as const)(
  'a %s is understood where the schema understands it, and otherwise not',
  (_, whole, schema, check) => {
    expect(check(whole)).toBe(true);
    const others = [...spoiled(whole), null, undefined, 3, 'text', []];
    expect(others.length).toBeGreaterThan(20);
    let refused = 0;
    for (const other of others) {
      const fits = schema.safeParse(other).success;
      if (!fits) refused++;
      // Forms are words to this check; what it does not know is shown as a scale of steps.
      const formOnly = JSON.stringify(other)?.includes('"form":"x"');
      if (!formOnly) expect(check(other), JSON.stringify(other)).toBe(fits);
    }
    expect(refused).toBeGreaterThan(20);
  },
);

test('the words of a refusal, and of what is none', () => {
  expect(refusalOf({ error: { message: 'the tasting has not begun' } })).toBe('the tasting has not begun');
  for (const other of [null, 3, {}, { error: null }, { error: { message: 5 } }])
    expect(refusalOf(other)).toBe('');
});
