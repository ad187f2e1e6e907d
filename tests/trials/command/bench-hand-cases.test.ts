import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { z } from 'zod';
import {
  DiluteResult,
  DoseResult,
  ScaleResult,
  StrengthResult,
  WeighResult,
} from '../../../trials/schema/bench-results.ts';
import cases from '../../reference/bench/hand-cases.json' with { type: 'json' };
import { dropwise, Folder } from '../support/command-line.ts';

const FORMULA = {
  format: 'formula/1',
  name: 'By hand',
  lines: [
    { material: 'd-limonene', grams: 1.2, density: 0.84, pricePerGram: 0.3 },
    {
      material: 'nootkatone',
      grams: 0.8,
      strength: 10,
      solvent: 'ethanol-96',
      density: 0.81,
      pricePerGram: 0.5,
    },
    { material: 'quassia-extract', grams: 2, pricePerGram: 0.25 },
    { material: 'rum', grams: 16, percentVol: 40, pricePerGram: 0.02 },
  ],
};

let folder: Folder;
let file: string;
beforeAll(() => {
  folder = new Folder();
  file = folder.write('formula.json', FORMULA);
});
afterAll(() => {
  folder.remove();
});

async function document<T extends z.ZodType>(schema: T, ...args: string[]): Promise<z.infer<T>> {
  const { status, out, err } = await dropwise('bench', ...args, '--json');
  expect(status, err).toBe(0);
  return schema.parse(JSON.parse(out));
}

/** Every figure of `expected` is in `found`, to 1e-9 of it. */
function expectFigures(found: Record<string, unknown>, expected: Record<string, unknown>): void {
  for (const [key, value] of Object.entries(expected))
    if (typeof value === 'number')
      expect(Math.abs((found[key] as number) - value), key).toBeLessThanOrEqual(
        1e-10 + 1e-9 * Math.abs(value),
      );
}

const byId = <T extends { substance: string }>(list: readonly T[], name: RegExp): T =>
  list.find(({ substance }) => name.test(substance))!;
const NAMES = {
  ethanol: /^ethanol/i,
  water: /^water$/i,
  'd-limonene': /^d-limonene$/i,
  nootkatone: /^nootkatone$/i,
  quassin: /^quassin$/i,
} as const;

describe('bench commands against cases worked apart from the program (OIML R 22, additive volumes)', () => {
  test.each(cases.dilute)('dilute $from to $to', async ({ from, to, make, ...expected }) => {
    const args = ['dilute', '--from', String(from), '--to', String(to), '--make', String(make)];
    expectFigures(await document(DiluteResult, ...args), expected);
  });

  test('strength', async () => {
    const found = await document(StrengthResult, 'strength', file);
    expectFigures(found, cases.strength);
    for (const [id, grams] of Object.entries(cases.strength.substances)) {
      const one = byId(found.substances, NAMES[id as keyof typeof NAMES]);
      expectFigures({ grams: one.grams, share: one.share }, { grams, share: grams / 20 });
    }
    expect(found.substances).toHaveLength(5);
  });

  test('dose, and the limit of quassin in a drink with and without alcohol', async () => {
    const amounts = ['--syrup-dose', '5', '--syrup-per-drink', '30', '--drink', '180'];
    const more = ['--drink-density', '1.03', '--drink-percent-vol', '5', '--drop-grams', '0.02'];
    const found = await document(DoseResult, 'dose', file, ...amounts, ...more);
    const { percentVol, mgPerKg: reaching, ...perDrink } = cases.dose;
    expectFigures(found.perDrink, perDrink);
    expectFigures(found.drink, { percentVol });
    for (const [id, mgPerKg] of Object.entries(reaching))
      expectFigures(byId(found.drink.substances, NAMES[id as keyof typeof NAMES]), { mgPerKg });
    const limits = (document: typeof found) =>
      byId(document.drink.substances, NAMES.quassin).limits.map(({ limit, exceeded }) => [limit, exceeded]);
    // About 1.4 mg/kg: below the 1.5 of drinks with alcohol, above the 0.5 of those without.
    expect(limits(found)).toEqual([
      [0, false],
      [1.5, false],
    ]);
    const soft = await document(DoseResult, 'dose', file, ...amounts, '--drink-density', '1.03');
    expect(limits(soft)).toEqual([
      [0, false],
      [0.5, true],
    ]);
    expect(soft.perDrink.drops).toBeNull();
    expect(soft.warnings.join()).toMatch(/Quassin: .*0\.5 mg\/kg.*not been verified/);
  });

  test.each(Object.entries(cases.scale))('scale to %s', async (to, expected) => {
    const found = await document(ScaleResult, 'scale', file, '--to', to);
    expectFigures(found, expected);
    for (const [index, { grams }] of found.lines.entries())
      expectFigures({ grams }, { grams: (FORMULA.lines[index]!.grams * expected.grams) / 20 });
  });

  test('weigh: a stock of 10 % where 0.05 g are too little, its solvent off the spirit, by hand', async () => {
    const small = folder.write('small.json', {
      format: 'formula/1',
      lines: [
        { material: 'nootkatone', grams: 0.05 },
        { material: 'd-limonene', grams: 2 },
        { material: 'ethanol-96', grams: 10 },
      ],
    });
    const found = await document(WeighResult, 'weigh', small, '--readability', '0.01');
    // 0.01/√6 = 0.00408 g: known to 1 % from 0.41 g. 0.5 g of a 10 % stock bring 0.45 g of spirit.
    expect(found.stocks).toMatchObject([
      { material: 'nootkatone', strength: 10, solvent: 'ethanol-96', grams: 0.5 },
    ]);
    expect(found.steps.map(({ material, grams, showTotal }) => [material, grams, showTotal])).toEqual([
      ['ethanol-96', 9.55, 9.55],
      ['nootkatone', 0.5, 10.05],
      ['d-limonene', 2, 12.05],
    ]);
    expectFigures(found.steps[1]!, { relativeError: 0.01 / Math.sqrt(6) / 0.5 });
    const known = await document(
      WeighResult,
      ...['weigh', small, '--readability', '0.01', '--repeatability', '0.001', '--tolerance', '0.02'],
    );
    expect(known.stocks).toEqual([]);
    expectFigures(known.steps.find(({ material }) => material === 'nootkatone')!, { relativeError: 0.02 });
  });

  test('what is missing is null and named, and a volume then refused', async () => {
    const unknown = folder.write('unknown.json', {
      format: 'formula/1',
      lines: [
        { material: 'bark from the hill', grams: 1 },
        { material: 'vanillin', grams: 1, strength: 10 },
        { material: 'ethanol-96', grams: 10, solvent: 'water', percentVol: 40 },
      ],
    });
    const found = await document(StrengthResult, 'strength', unknown);
    expect(found).toMatchObject({ grams: 12, millilitres: null, density: null, percentVol: null });
    expect(found.warnings.join('\n')).toMatch(/no volume: bark from the hill/);
    expect(found.warnings.join('\n')).toMatch(/40 % by volume as the line says, not the 96 % of the shelf/);
    expect(found.warnings.join('\n')).toMatch(/a solvent without a strength below 100 counts for nothing/);
    const amounts = ['--syrup-dose', '1', '--syrup-per-drink', '30', '--drink', '180'];
    const dose = await document(DoseResult, 'dose', unknown, ...amounts);
    expect(dose.perDrink).toMatchObject({ grams: null, drops: null });
    expect(dose.unchecked.map(({ material }) => material)).toContain('bark from the hill');
    const { status, out, err } = await dropwise('bench', 'scale', unknown, '--to', '2L', '--json');
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(err).toMatch(/bark from the hill/);
  });

  test('slips that a hand makes: named with their place, or flagged, never passed over', async () => {
    const lines = (...all: object[]) => folder.write('slip.json', { format: 'formula/1', lines: all });
    const refused = async (file: string, ...args: string[]) => {
      const { status, out, err } = await dropwise('bench', ...args.slice(0, 1), file, ...args.slice(1));
      expect(out).toBe('');
      return `${status}: ${err}`;
    };
    const round = lines({ material: 'Vanillin', grams: 1, strength: 10, solvent: 'vanillin' });
    expect(await refused(round, 'strength')).toMatch(
      /^1: .*lines\[0\]\.solvent: found "?vanillin as the solvent of Vanillin"?, allowed a solvent other than/,
    );
    const heavy = lines({ material: 'd-limonene', grams: 1, density: 841 });
    expect(await refused(heavy, 'strength')).toMatch(/^1: .*lines\[0\]\.density: found 841, .*kg\/m³/);
    const plain = lines({ material: 'ethanol-96', grams: 1 });
    const dose = ['--syrup-per-drink', '30', '--drink', '180'];
    expect(await refused(plain, 'dose', '--syrup-dose', '1001', ...dose)).toMatch(/^2: .*--syrup-dose/);
    expect(await refused(plain, 'dose', '--syrup-dose', '20', ...dose, '--drink-percent-vol', '100')).toMatch(
      /^1: .*drinkPercentVol: found 100, allowed .* at most 99\.68/,
    );
    const odd = lines({ material: 'ethanol-96', grams: 2, density: 0.95 }, { material: 'a', grams: 1 });
    const { warnings } = await document(StrengthResult, 'strength', odd);
    expect(warnings.join('\n')).toMatch(/ethanol-96: the line says 0\.95 g\/mL, and 96 % .* 0\.8074/);
  });

  test('two stocks of one material are told apart, one want is named once, and a mass lost in rounding is said', async () => {
    const twice = folder.write('twice.json', {
      format: 'formula/1',
      lines: [
        { material: 'vanillin', grams: 1, strength: 10, solvent: 'ethanol-96' },
        { material: 'vanillin', grams: 1, strength: 1, solvent: 'ethanol-96' },
        { material: 'maltol', grams: 1e-9 },
        { material: 'ethanol-96', grams: 9 },
      ],
    });
    const { out, err } = await dropwise('bench', 'weigh', twice, '--readability', '0.01');
    expect(out).toMatch(/vanillin, 10 % in ethanol-96/);
    expect(out).toMatch(/vanillin, 1 % in ethanol-96/);
    expect(err).toMatch(/maltol: 1\.00e-9 g .* rounds to nothing and is left out/);
    const { warnings } = await document(ScaleResult, 'scale', twice, '--to', '1kg');
    expect(warnings.filter((text) => text.startsWith('no cost: vanillin'))).toHaveLength(1);
  });
});
