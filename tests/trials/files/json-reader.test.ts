import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readJson } from '../../../trials/files/json-reader.ts';

const refusal = (text: string) => {
  try {
    readJson(text, 'b.json');
  } catch (error) {
    return (error as Error).message;
  }
  return 'accepted';
};

describe('readJson', () => {
  test('reads what JSON.parse reads', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(0, 1, 2), (value, indent) => {
        const text = JSON.stringify(value, null, indent);
        expect(JSON.stringify(readJson(text, 'f').value)).toBe(JSON.stringify(JSON.parse(text)));
      }),
      { seed: 11, numRuns: 500 },
    );
  });

  test('refuses what JSON.parse refuses, and numbers that overflow', () => {
    const pieces = [
      '{',
      '}',
      '[',
      ']',
      ',',
      ':',
      '"a"',
      '"',
      '1',
      '-',
      '01',
      '1.',
      '.5',
      '1e3',
      'true',
      'nul',
      ' ',
      '\\',
      '+1',
      'NaN',
    ];
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...pieces), { maxLength: 7 }), (parts) => {
        const text = parts.join('');
        let allowed = true;
        try {
          JSON.parse(text);
        } catch {
          allowed = false;
        }
        const own = refusal(text);
        if (!own.includes('once')) expect(own === 'accepted').toBe(allowed);
      }),
      { seed: 12, numRuns: 3000 },
    );
    expect(refusal('[1e999]')).toBe('b.json, line 1, column 2: found "1e999", allowed a finite number');
  });

  test('places values and missing fields', () => {
    const { locate } = readJson('{\n  "a": [1,\n    {"b": 2}],\n  "c d": 3\n}', 'b.json');
    expect(locate(['a', 1, 'b'])).toBe('b.json, line 3, column 11, a[1].b');
    expect(locate(['a', 1, 'missing'])).toBe('b.json, line 3, column 5, a[1].missing');
    expect(locate(['c d'])).toBe('b.json, line 4, column 10, ["c d"]');
    expect(locate([])).toBe('b.json, line 1, column 1');
  });

  test.each([
    ['{"a": 1,\n "a": 2}', 'b.json, line 2, column 2: found "\\"a\\"", allowed the field "a" once'],
    ['{"a": 1', 'found the end of the file, allowed a comma or }'],
    ['', 'b.json, line 1, column 1: found the end of the file, allowed a JSON value'],
    ['{a: 1}', 'line 1, column 2: found "a", allowed a field name in double quotes'],
    ['[1] 2', 'line 1, column 5: found "2", allowed the end of the file'],
    ['['.repeat(100), 'allowed at most 64 levels of nesting'],
    ["{'a': 1}", 'found "\'", allowed a field name in double quotes'],
  ])('refuses %j with its place', (text, message) => {
    expect(refusal(text)).toContain(message);
  });

  test('__proto__ is a field like any other', () => {
    const { value } = readJson('{"__proto__": {"x": 1}}', 'f');
    expect(Object.keys(value as object)).toEqual(['__proto__']);
    expect((value as { x?: number }).x).toBeUndefined();
  });
});
