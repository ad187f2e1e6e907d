import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { dilute } from '../../../engine/bench/dilute.ts';
import { doseOf } from '../../../engine/bench/dose.ts';
import { readFormula } from '../../../trials/files/read-json-files.ts';
import { legalLimits } from '../../../trials/shelf/legal-limits.ts';
import { resolveFormula } from '../../../trials/shelf/resolve-formula.ts';

const read = (name: string) => {
  const file = new URL(`../../../examples/formula/${name}.json`, import.meta.url);
  return resolveFormula(readFormula(readFileSync(file, 'utf8'), name).formula);
};

/** Expected within a factor of three either way: these are facts of the trade, common practice, no published source. */
function expectAbout(found: number | null, expected: number): void {
  expect(found).not.toBeNull();
  expect(found! / expected).toBeGreaterThan(1 / 3);
  expect(found! / expected).toBeLessThan(3);
}

describe('facts of the trade (common practice, no published source)', () => {
  const { lines, materials } = read('grapefruit-pink-pepper');
  const glass = { lines, materials, limits: legalLimits(), syrupDose: 1.5, syrupPerDrink: 30, drink: 150 };

  it('reaches the same glass by 1.5 mL a litre of syrup and 30 mL of syrup, or by one drop', () => {
    // A drop of strong spirit weighs 20 to 25 mg.
    expectAbout(doseOf({ ...glass, dropGrams: 0.0225 }).perDrink.drops, 1);
  });

  it('uses each aroma where its use levels say that a drink of the kind stands', () => {
    const { substances } = doseOf({ ...glass, drinkDensity: 1.03 }).drink;
    const of = (name: string) => substances.find(({ substance }) => substance.startsWith(name))!.mgPerKg;
    // Worked out by hand beside the demo: 15, 0.8, 0.0005, 1.3 and 0.11 mg/L at 0.25 mL/L; here 0.3 mL/L.
    expectAbout(of('Grapefruit peel oil'), 15);
    expectAbout(of('Nootkatone'), 0.8);
    expectAbout(of('1-p-Menthene-8-thiol'), 0.0005);
    expectAbout(of('Pink pepper'), 1.3);
    expectAbout(of('Quassin'), 0.11);
  });

  it('makes a concentrate of about 88 % and a drink far below 0.5 % by volume', () => {
    const { drink } = doseOf(glass);
    expect(drink.percentVol).toBeGreaterThan(0.015);
    expect(drink.percentVol).toBeLessThan(0.03);
  });

  it('takes 96 % spirit to 40 % with about one and a half times as much water', () => {
    const { spiritMillilitres, waterMillilitres } = dilute({ from: 96, to: 40, make: 1000 });
    expectAbout(waterMillilitres / spiritMillilitres, 1.5);
  });
});

describe('a formula that goes past limits on purpose', () => {
  it('is caught: quassin and pulegone, and what cannot be checked is listed', () => {
    const { lines, materials } = read('bitter-mint');
    const limits = legalLimits();
    const { drink, unchecked } = doseOf({
      lines,
      materials,
      limits,
      syrupDose: 20,
      syrupPerDrink: 30,
      drink: 150,
    });
    const exceeded = drink.substances.flatMap(({ substance, limits: judged }) =>
      judged
        .filter((one) => one.exceeded === true)
        .map(({ limit, jurisdiction }) => [substance, limit, jurisdiction]),
    );
    expect(exceeded).toEqual([
      ['Pulegone', 20, 'EU'],
      ['Quassin', 0.5, 'EU'],
    ]);
    expect(unchecked.map(({ material }) => material)).toEqual(['Peppermint oil']);
  });
});
