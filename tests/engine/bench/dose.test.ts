import { describe, expect, it } from 'vitest';
import { type DoseInput, doseOf } from '../../../engine/bench/dose.ts';
import type { Portion } from '../../../engine/bench/explode.ts';
import type { Limit } from '../../../engine/bench/limits.ts';
import { uncheckedOf } from '../../../engine/bench/unchecked.ts';
import { EngineError } from '../../../engine/errors.ts';
import examples from '../../reference/bench/weighing-dilution.json' with { type: 'json' };
import { line, material, shelfOf } from './bench-materials.ts';
import { expectClose } from './closeness.ts';

const limit = (more: Partial<Limit>): Limit => ({
  substance: 'quassin',
  cas: '76-78-8',
  limit: 0.5,
  unit: 'mg/kg',
  kind: 'maximum',
  drinks: 'any',
  only: null,
  jurisdiction: 'EU',
  source: 'a law',
  verified: true,
  note: '',
  ...more,
});

const shelf = shelfOf(
  material('quassin', { cas: '76-78-8', density: 1.2 }),
  material('extract', {
    makeup: { kind: 'solution', of: 'quassin', percent: 2, solvent: 'ethanol-96', natural: true },
  }),
  material('mint', {
    density: 0.9,
    makeup: {
      kind: 'complex',
      complete: false,
      constituents: [{ substance: 'Pulegone', cas: '89-82-7', mostPercent: 4 }],
    },
  }),
  material('pennyroyal', {
    density: 0.9,
    makeup: {
      kind: 'complex',
      complete: true,
      constituents: [{ substance: 'pulegone (R)', cas: '89-82-7', mostPercent: 80 }],
    },
  }),
  material('bark', { density: 0.9, makeup: { kind: 'complex', complete: false, constituents: [] } }),
  material('mystery', { density: 1, makeup: { kind: 'unknown' } }),
  material('powder'),
);

const dose = (more: Partial<DoseInput>) =>
  doseOf({
    lines: [line('extract', 1), line('ethanol-96', 9)],
    materials: shelf,
    limits: [],
    syrupDose: 1,
    syrupPerDrink: 30,
    drink: 150,
    ...more,
  });

describe('what reaches the glass', () => {
  it('holds the worked dilution: 1 mL in a litre of syrup, one part to four', () => {
    const { dilution_case: example } = examples;
    // A concentrate of 20, 8 and 2 mg/mL in 95 % spirit; its density is close enough to that of the spirit that the
    // stated mg/mL are met by making the masses from the volume found.
    const lines = (millilitres: number) => [
      line('A', 0.02 * millilitres),
      line('B', 0.008 * millilitres),
      line('C', 0.002 * millilitres),
      line('s95', 75),
    ];
    const more = ['A', 'B', 'C'].map((id) => material(id, { density: 1 }));
    const s95 = material('s95', { makeup: { kind: 'spirit', percentVol: 95 } });
    const spirit = 75 / 0.81138;
    const found = dose({ lines: lines(spirit / 0.97), materials: shelfOf(...more, s95), drink: 150 });
    expectClose(found.perDrink.millilitres / 0.15, example.mL_concentrate_per_L_drink, 1e-12);
    for (const [name, mgPerLitre] of Object.entries(example.mg_per_L_drink))
      expectClose(
        found.drink.substances.find(({ substance }) => substance === name)!.mgPerKg,
        mgPerLitre,
        1e-4,
        1e-4,
      );
    // 95 % spirit, of which the aroma takes 3 % of the room; the example neglects that.
    expectClose(found.drink.percentVol, example.ethanol_percent_vol_from_95_percent_concentrate * 0.97, 1e-4);
  });

  it('counts pure substance by mass of the drink, by hand', () => {
    const found = dose({ drinkDensity: 1.03, dropGrams: 0.02, drinkPercentVol: 5 });
    // 0.03 mL; 10 g of the concentrate hold 0.02 g of quassin.
    expectClose(found.perDrink.millilitres, 0.03, 1e-15);
    expectClose(found.perDrink.drops, found.perDrink.grams! / 0.02, 1e-12);
    const quassin = found.drink.substances.find(({ substance }) => substance === 'quassin')!;
    expectClose(quassin.mgPerKg, (1e6 * found.perDrink.grams! * 0.002) / (150 * 1.03), 1e-12, 1e-12);
    expectClose(found.drink.percentVol, 5.0192, 1e-4);
    expect(dose({}).perDrink.drops).toBeNull();
  });

  it('finds what an extract brings, and tells a ban on adding it as such from a maximum', () => {
    const limits = [limit({ kind: 'banned as such', limit: 0 }), limit({ limit: 0.1, verified: false })];
    const found = dose({ limits, syrupDose: 10 });
    const { limits: judged } = found.drink.substances.find(({ substance }) => substance === 'quassin')!;
    expect(judged.map(({ exceeded, verified }) => [exceeded, verified])).toEqual([
      [false, true],
      [true, false],
    ]);
    expect(found.warnings).toEqual([
      expect.stringMatching(/quassin: .*mg\/kg.*0\.1 mg\/kg.*not been verified/),
    ]);
    const pure = dose({ limits, lines: [line('quassin', 1e-9), line('ethanol-96', 9)] });
    expect(pure.drink.substances.at(-1)!.limits.map(({ exceeded }) => exceeded)).toEqual([true, false]);
  });

  it('sums a substance over the oils that hold it, at the most that they may hold', () => {
    const limits = [limit({ substance: 'pulegone', cas: '89-82-7', limit: 20 })];
    const found = dose({ lines: [line('mint', 1), line('pennyroyal', 1), line('ethanol-96', 8)], limits });
    const pulegone = found.drink.substances.find(({ cas }) => cas === '89-82-7')!;
    const oil = found.drink.substances.find(({ substance }) => substance === 'mint')!;
    expectClose(pulegone.mgPerKg, 0.84 * oil.mgPerKg!, 1e-12, 1e-12);
    expect(pulegone.within.map(({ material: name }) => name)).toEqual(['mint', 'pennyroyal']);
    expect(pulegone.limits).toMatchObject([{ exceeded: false, limit: 20 }]);
    expect(found.unchecked).toEqual([{ material: 'mint', because: expect.stringContaining('Pulegone') }]);
  });

  it('lists what could not be checked, never passing it over', () => {
    const found = dose({
      lines: [line('bark', 1), line('mystery', 1), line('bark', 2), line('ethanol-96', 8)],
    });
    expect(found.unchecked.map(({ material: name }) => name)).toEqual(['bark', 'mystery']);
    expect(dose({}).unchecked).toEqual([]);
  });

  it('names eight constituents of an oil that is known in part, and counts the rest', () => {
    const constituents = Array.from({ length: 30 }, (_, i) => ({ substance: `s${i + 1}` }));
    const makeup = { kind: 'complex', complete: false, constituents };
    const portion = { grams: 1, substance: { id: 'oil', name: 'Oil', makeup } } as unknown as Portion;
    expect(uncheckedOf([portion])[0]!.because).toContain('(s1, s2, s3, s4, s5, s6, s7, s8, and 22 more)');
  });

  it('asks the alcoholic rows of drinks above 1.2 % by volume, the others of the rest', () => {
    const limits = [
      limit({ drinks: 'alcoholic', limit: 1.5 }),
      limit({ drinks: 'non-alcoholic', limit: 0.5 }),
    ];
    const asked = (drinkPercentVol: number) =>
      dose({ limits, drinkPercentVol }).drink.substances.flatMap((one) => one.limits.map((row) => row.limit));
    expect([asked(0), asked(5)]).toEqual([[0.5], [1.5]]);
  });

  it('judges litres by the density of the drink, strengths by volume, and leaves rules in words to the reader', () => {
    const limits = [
      limit({ unit: 'mg/L', limit: 4.05, substance: 'A', cas: null }),
      limit({ kind: 'told', limit: null, substance: 'A', cas: null }),
      limit({
        kind: 'banned as such',
        limit: 0,
        only: 'the synthetic form',
        substance: 'a (any)',
        cas: null,
      }),
      limit({ unit: '% vol', limit: 0.5, kind: 'declared', substance: 'ethanol', cas: null }),
    ];
    const materials = shelfOf(material('A', { density: 1 }));
    const lines = [line('A', 2), line('water', 98)];
    const judged = (density: number, drinkPercentVol = 0) => {
      const at = { materials, lines: [...lines, line('ethanol', 1e-6)], limits, drinkDensity: density };
      const found = dose({ ...at, drinkPercentVol }).drink.substances;
      return found.flatMap((one) => one.limits.map(({ exceeded }) => exceeded));
    };
    expect(judged(1)).toEqual([false, null, null, false]);
    expect(judged(1, 0.6)).toEqual([false, null, null, true]);
    const strong = [limit({ unit: 'mg/L', limit: 3.9, substance: 'A', cas: null })];
    const exceeded = (density: number) =>
      dose({ materials, lines, limits: strong, drinkDensity: density }).drink.substances[1]!.limits[0]!
        .exceeded;
    // 0.03 mL of 2 % by mass in 150 mL: 4.0 mg/L whatever the density of the drink.
    expect([exceeded(1), exceeded(1.3)]).toEqual([true, true]);
  });

  it('gives no figure where the density is missing', () => {
    const found = dose({ lines: [line('powder', 1), line('ethanol-96', 9)], limits: [limit({})] });
    expect(found.perDrink).toMatchObject({ grams: null, drops: null });
    expect(found.drink.percentVol).toBeNull();
    expect(found.drink.substances.every(({ mgPerKg }) => mgPerKg === null)).toBe(true);
    expect(found.warnings[0]).toContain('powder');
  });

  it.each([
    { syrupDose: 0 },
    { drink: -1 },
    { syrupPerDrink: 151 },
    { drinkDensity: Number.NaN },
    { drinkPercentVol: 101 },
    { dropGrams: 0 },
  ])('refuses %o', (more) => {
    expect(() => dose(more)).toThrow(EngineError);
  });
});
