import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitted, shortened, widthOf, wrapped } from '../../../web/charts/names.ts';

const WORD = 'Aldehydwasserdampfdestillationsrueckstandsoele';
const LONG = 'Bitterness that stays at the back of the tongue, first sip';

describe('names in charts', () => {
  it('that differ at their ends alone stay apart when they are shortened', () => {
    expect(shortened(`${WORD} A`, 15)).toBe('Aldehyd…soele A');
    expect(shortened('m1', 15)).toBe('m1');
    for (const cut of [(name: string) => shortened(name, 12), (name: string) => fitted(name, 64)])
      expect(cut(`${LONG} A`)).not.toBe(cut(`${LONG} B`));
    expect(wrapped(`${LONG} A`, 20)).toEqual(['Bitterness that', 'stays at the back of', '… first sip A']);
  });

  it('keep their words where these fit', () => {
    expect(wrapped('Overall liking', 20)).toEqual(['Overall liking']);
    expect(wrapped('Overall liking', 8)).toEqual(['Overall', 'liking']);
    expect(wrapped(WORD, 12)).toEqual(['Aldehy…soele']);
  });

  it('are never longer than asked, and whole characters remain (property)', () => {
    const name = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 80 });
    fc.assert(
      fc.property(name, fc.integer({ min: 3, max: 40 }), (text, most) => {
        expect([...shortened(text, most)].length).toBeLessThanOrEqual(Math.max(most, 1));
        expect(shortened(text, most)).not.toMatch(/\p{Cs}/u);
        expect(wrapped(text, most).length).toBeLessThanOrEqual(3);
        for (const line of wrapped(text, most)) expect([...line].length).toBeLessThanOrEqual(most);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('fit the pixels they are given', () => {
    for (const text of [LONG, WORD, 'mmmmmmmmmmmmmmmmmmmm', '柚子の皮の精油（高知県産、冬収穫）'])
      expect(widthOf(fitted(text, 90))).toBeLessThanOrEqual(90);
  });
});
