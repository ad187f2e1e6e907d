import { describe, expect, it } from 'vitest';
import { strengthOf } from '../../../engine/bench/strength.ts';
import { InputFaults } from '../../../trials/schema/faults.ts';
import { checkFormula } from '../../../trials/schema/formula.ts';
import { resolveFormula } from '../../../trials/shelf/resolve-formula.ts';

/** Strength of a formula with these lines, each of 100 g unless it says otherwise. */
function read(...lines: object[]) {
  const checked = checkFormula({ format: 'formula/1', lines: lines.map((one) => ({ grams: 100, ...one })) });
  if ('faults' in checked) throw new InputFaults(checked.faults);
  const resolved = resolveFormula(checked.formula);
  const strength = strengthOf(resolved.lines, resolved.materials);
  const grams = Object.fromEntries(strength.substances.map(({ id, grams: mass }) => [id, mass]));
  return { ...resolved, ...strength, grams, warnings: resolved.warnings };
}

describe('a formula against the shelf', () => {
  it('dilutes by strength and solvent, whatever they are called', () => {
    const { grams, percentVol } = read({ material: 'Nootkatone', strength: 10, solvent: 'Ethanol 96 % vol' });
    expect(grams['nootkatone']).toBeCloseTo(10, 12);
    expect(grams['ethanol']).toBeCloseTo(90 * 0.93838, 3);
    expect(percentVol).toBeGreaterThan(80);
  });

  it('reads a spirit by its strength by volume, on the shelf or not', () => {
    for (const line of [
      { material: 'house gin', percentVol: 40 },
      { material: 'ethanol', percentVol: 40 },
      { material: 'ethanol-96', percentVol: 40 },
      { material: 'ethanol-40' },
      { material: 'Ethanol 40 % vol' },
    ]) {
      const { grams, percentVol } = read(line);
      expect(grams['ethanol']).toBeCloseTo(33.2996, 4);
      expect(percentVol).toBeCloseTo(40, 9);
    }
    expect(read({ material: 'ethanol-96' }).percentVol).toBeCloseTo(96, 9);
    expect(read({ material: 'ethanol' }).percentVol).toBeCloseTo(100, 9);
  });

  it('counts a strength once where the line says again what the shelf says', () => {
    const plain = read({ material: 'quassia-extract' });
    const again = read({ material: 'quassia-extract', strength: 2, solvent: 'ethanol-96' });
    expect(plain.grams['quassin']).toBeCloseTo(2, 12);
    expect(again.grams).toEqual(plain.grams);
    expect(again.warnings.join()).toContain('counts once');
    const spirit = read({ material: 'ethanol-96', strength: 93.84 });
    expect(spirit.percentVol).toBeCloseTo(96, 9);
  });

  it('multiplies the two where they differ, and says so', () => {
    const { grams, warnings } = read({ material: 'quassia-extract', strength: 10, solvent: 'ethanol-96' });
    expect(grams['quassin']).toBeCloseTo(0.2, 12);
    expect(warnings.join()).toContain('the two multiply');
  });

  it('takes a strength by volume beside a strength by mass as that of the solvent', () => {
    const { grams, warnings } = read({ material: 'vanillin', strength: 10, solvent: 'rum', percentVol: 40 });
    expect(grams['ethanol']).toBeCloseTo(90 * 0.332996, 3);
    expect(warnings.join()).toContain('strength of its solvent');
  });

  it('never guesses: a solvent without a name, a material without a shelf', () => {
    expect(read({ material: 'vanillin', strength: 10 })).toMatchObject({
      percentVol: null,
      millilitres: null,
    });
    const mystery = read({ material: 'mystery' }, { material: 'ethanol-96' });
    expect(mystery).toMatchObject({ percentVol: null, millilitres: null });
    expect(mystery.warnings.join()).toContain('mystery is not on the shelf');
    expect(read({ material: 'mystery', density: 0.8 }, { material: 'water' }).percentVol).toBe(0);
  });

  it('tells which densities nobody verified, unless the line has its own', () => {
    expect(read({ material: 'linalool' }).warnings.join()).toContain('Linalool');
    expect(read({ material: 'linalool', density: 0.86 }).warnings).toEqual([]);
    expect(read({ material: 'quassia-extract' }).warnings.join()).toContain('Quassin');
    expect(read({ material: 'd-limonene' }).warnings).toEqual([]);
  });

  it('puts what the line says before what the shelf says', () => {
    expect(read({ material: 'd-limonene', density: 0.5 }).millilitres).toBeCloseTo(200, 9);
    expect(read({ material: 'quassia-extract' }).lines[0]!.pricePerGram).toBeNull();
    expect(read({ material: 'quassia-extract', pricePerGram: 1 }).lines[0]!.pricePerGram).toBe(1);
    expect(read({ material: 'd-limonene' }).lines[0]!.pricePerGram).toBeNull();
  });

  it('refuses a strength by volume of what is no spirit, by line', () => {
    expect(() => read({ material: 'water', grams: 1 }, { material: 'd-limonene', percentVol: 40 })).toThrow(
      /lines\[1\]\.percentVol/,
    );
  });

  it('refuses both strengths where no solvent says what the second is of', () => {
    expect(() => read({ material: 'house spirit', strength: 50, percentVol: 96 })).toThrow(
      /lines\[0\]\.percentVol: found 96 % by volume beside a strength of 50 % by mass/,
    );
  });

  it('is not led astray by names that mean something to the language', () => {
    expect(
      read({ material: '__proto__', density: 1 }, { material: 'constructor', density: 1 }).grams,
    ).toEqual({
      'named:__proto__': 100,
      'named:constructor': 100,
    });
  });
});
