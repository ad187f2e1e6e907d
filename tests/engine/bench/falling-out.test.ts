import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Clearness, fallingOut, isDoubtful } from '../../../engine/bench/falling-out.ts';
import { EngineError } from '../../../engine/errors.ts';

type ClearIn = { percentVol: number; parts: number; source: string };

const one = (percentVol: number | null, mgPerKg: number | null, clearIn: ClearIn | null = null) =>
  fallingOut([{ place: 'The jar', percentVol, holds: [{ name: 'Lemon oil', mgPerKg, clearIn }] }])[0]!;

describe('where oil is likely to fall out', () => {
  it.each<[number | null, number | null, Clearness, RegExp]>([
    [0, 9.9, 'clear', /too little to be seen/],
    [0, 10, 'can-fall-out', /^The jar: 10 mg\/kg of oil \(Lemon oil\) in 0 % by volume can cloud/],
    [40, 2000, 'can-fall-out', /2000 mg\/kg of oil .* in 40 % by volume/],
    [59.9, 20_000, 'can-fall-out', /2 % of oil/],
    [60, 20_000, 'look', /rich in terpenes/],
    [89.9, 80_000, 'look', /8 % of oil/],
    [90, 80_000, 'clear', /strong enough for 8 % of oil/],
    [null, 50, 'not-known', /its strength is not known/],
    [40, null, 'not-known', /how much oil it holds is not known/],
  ])('%s %% vol with %s mg/kg: %s', (percentVol, mgPerKg, clearness, says) => {
    const found = one(percentVol, mgPerKg);
    expect(found.clearness).toBe(clearness);
    expect(found.says).toMatch(says);
    expect(found.source).not.toBe('');
    expect(isDoubtful(found)).toBe(clearness !== 'clear');
  });

  it('takes a sheet’s word before the rule, where there is alcohol enough and strong enough', () => {
    const sheet = { percentVol: 70, parts: 3, source: 'the sheet' };
    // A quarter of oil has three parts to one; more oil has fewer.
    expect(one(70, 250_000, sheet)).toMatchObject({ clearness: 'clear', source: 'the sheet' });
    expect(one(70, 260_000, sheet).clearness).toBe('look');
    expect(one(69, 250_000, sheet).clearness).toBe('look');
    expect(one(45, 250_000, sheet).clearness).toBe('can-fall-out');
  });

  it('adds up what dislikes water, and names only what is in doubt', () => {
    const sheet = { percentVol: 70, parts: 3, source: 'the sheet' };
    const [link] = fallingOut([
      {
        place: 'The concentrate',
        percentVol: 76,
        holds: [
          { name: 'Peppermint oil', mgPerKg: 6000, clearIn: sheet },
          { name: 'Lemon oil', mgPerKg: 6000, clearIn: null },
        ],
      },
    ]);
    expect(link).toMatchObject({ clearness: 'look', mgPerKg: 12_000 });
    expect(link!.says).toContain('(Lemon oil)');
    const [nothing] = fallingOut([{ place: 'Water', percentVol: 0, holds: [] }]);
    expect(nothing).toMatchObject({ clearness: 'clear', mgPerKg: 0 });
  });

  it('never grows clearer with more oil or less alcohol', () => {
    const rank = (c: Clearness) => ['clear', 'look', 'can-fall-out'].indexOf(c);
    const strength = fc.double({ min: 0, max: 100, noNaN: true });
    const mass = fc.double({ min: 0, max: 5e5, noNaN: true });
    fc.assert(
      fc.property(strength, strength, mass, mass, (a, b, m, n) => {
        const worse = one(Math.min(a, b), Math.max(m, n));
        const better = one(Math.max(a, b), Math.min(m, n));
        expect(rank(worse.clearness)).toBeGreaterThanOrEqual(rank(better.clearness));
      }),
    );
  });

  it.each([
    [101, 5],
    [-1, 5],
    [Number.NaN, 5],
    [40, -1],
    [40, 2e6],
  ])('refuses %s %% vol with %s mg/kg', (percentVol, mgPerKg) => {
    expect(() => one(percentVol, mgPerKg)).toThrow(EngineError);
  });
});
