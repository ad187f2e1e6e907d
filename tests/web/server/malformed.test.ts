import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ErrorAnswer, ROUTES, type RouteName } from '../../../trials/schema/api.ts';
import { openSittingIn, openWorkbench } from '../../support/workbench.ts';

const workbench = await openWorkbench();
const { place, ann, codes } = openSittingIn(workbench.store);
const calm = (Object.keys(ROUTES) as RouteName[]).filter(
  (name) => !('stream' in ROUTES[name]) && name !== 'enter',
);

const oddText = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 30 }),
  fc.constantFrom(
    '__proto__',
    'constructor',
    '../..',
    '%00',
    '',
    "'; DROP TABLE answers; --",
    '\u202e',
    'a'.repeat(5000),
    '1e999',
    'null',
  ),
);
const oddNumber = fc.oneof(fc.double(), fc.constantFrom(0, -1, 1e308, 2 ** 53, 0.1));
const leaf = fc.oneof(oddText, oddNumber, fc.boolean(), fc.constant(null));
const anything = fc.letrec((tie) => ({
  value: fc.oneof(
    { maxDepth: 3 },
    leaf,
    fc.array(tie('value'), { maxLength: 4 }),
    fc.dictionary(oddText, tie('value'), { maxKeys: 5 }),
  ),
})).value;

/** Bodies that are nearly right: the fields of the schema, some of them odd. */
const nearly = fc.oneof(
  fc.record(
    {
      answers: fc.array(
        fc.record(
          {
            id: fc.oneof(fc.constant('e'.repeat(32)), leaf),
            code: fc.oneof(fc.constantFrom(...codes), leaf),
            question: fc.oneof(fc.constantFrom('bitter', 'liking'), leaf),
            value: fc.oneof(fc.double({ min: -10, max: 110 }), leaf),
            phone: fc.oneof(fc.constant('f'.repeat(32)), leaf),
            count: fc.oneof(fc.nat(), leaf),
          },
          { requiredKeys: [] },
        ),
        { maxLength: 5 },
      ),
      mixes: fc.oneof(fc.constantFrom(['m1'], 3), anything),
      assessors: fc.oneof(fc.constant(['P1']), anything),
      label: leaf,
      grams: fc.oneof(fc.constant({ peel: 1 }), anything),
      reading: leaf,
      step: fc.oneof(fc.constantFrom('rest', 'dose'), leaf),
      done: leaf,
      why: leaf,
      position: leaf,
      assessor: leaf,
      format: fc.constantFrom('brief/1', 'trial/1'),
      tables: anything,
      rows: anything,
      count: leaf,
      token: leaf,
      version: leaf,
      mayTaste: leaf,
    },
    { requiredKeys: [] },
  ),
  anything,
);
const body = fc.oneof(
  { weight: 8, arbitrary: nearly.map((value) => JSON.stringify(value) ?? 'undefined') },
  { weight: 1, arbitrary: fc.string({ maxLength: 200 }) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      '{',
      '[]',
      '"x"',
      'NaN',
      '{"a":1}}',
      '{"__proto__":{"role":"maker"}}',
      '['.repeat(3000),
    ),
  },
);
const word = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom('demo', 's1', '1', 'm1', place.trial, place.sitting, 'P1') },
  { weight: 1, arbitrary: oddText.filter((text) => text !== '') },
);
const call = fc.record({
  name: fc.constantFrom(...calm),
  words: fc.array(word, { minLength: 4, maxLength: 4 }),
  body,
  type: fc.constantFrom(
    'application/json',
    'application/json',
    'application/json',
    'text/plain',
    'application/json; charset=latin1',
  ),
  taster: fc.boolean(),
});

describe('a thousand requests that nobody should send', () => {
  test('are each answered in the one shape, none with a fault of the server', async () => {
    let refused = 0;
    await fc.assert(
      fc.asyncProperty(call, async ({ name, words, body: sent, type, taster }) => {
        const { method, path } = ROUTES[name];
        let next = 0;
        const address = path.replace(/:\w+/g, () => safely(words[next++ % words.length]!));
        const headers = { 'content-type': type, ...(taster ? ann : {}) };
        const response = await fetch(workbench.base + address, {
          method,
          headers,
          ...(method === 'GET' ? {} : { body: sent }),
        });
        const text = await response.text();
        if (response.status >= 500 || /at .*\.ts:\d+/.test(text))
          throw new Error(`${method} ${address} ${sent}: ${response.status} ${text.slice(0, 500)}`);
        if (response.ok) return;
        refused++;
        const answer = ErrorAnswer.parse(JSON.parse(text));
        for (const { message } of answer.error.faults) expect(message).not.toMatch(/[\r\n]/);
      }),
      { seed: 1006, numRuns: 1000 },
    );
    expect(refused).toBeGreaterThan(500);
    expect((await workbench.ask('readTrial', { params: { trial: 'demo' } })).status).toBe(200);
  });
});

function safely(text: string): string {
  try {
    return encodeURIComponent(text).replace(/^\.+$/, '%2E');
  } catch {
    return '%ZZ';
  }
}
