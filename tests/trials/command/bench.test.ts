import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { z } from 'zod';
import {
  DiluteResult,
  DoseResult,
  ScaleResult,
  StrengthResult,
  WeighResult,
} from '../../../trials/schema/bench-results.ts';
import { changed, pithBrief } from '../support/briefs.ts';
import { dropwise, Folder } from '../support/command-line.ts';

const FORMULA = {
  format: 'formula/1',
  name: 'Pith',
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
    { material: 'grapefruit-oil', grams: 0.02, density: 0.85, pricePerGram: 0.4 },
    { material: 'house spirit', grams: 18, percentVol: 96, pricePerGram: 0.02 },
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

describe('bench', () => {
  test('dilute: 96 % spirit to 500 mL of 40 %, by OIML R 22 densities 807.42 and 948.05 g/L', async () => {
    const result = await document(DiluteResult, 'dilute', '--from', '96', '--to', '40', '--make', '500');
    expect(result.spiritMillilitres).toBeCloseTo((500 * 40) / 96, 9);
    expect(result.spiritGrams).toBeCloseTo((0.80742 * 500 * 40) / 96, 2);
    expect(result.spiritGrams + result.waterGrams).toBeCloseTo(0.94805 * 500, 2);
    expect(result.contractionMillilitres).toBeCloseTo(
      result.spiritMillilitres + result.waterMillilitres - 500,
      9,
    );
  });

  test('strength: masses of pure substances add up', async () => {
    const result = await document(StrengthResult, 'strength', file);
    expect(result.grams).toBeCloseTo(20.02, 12);
    expect(result.substances.reduce((sum, { grams }) => sum + grams, 0)).toBeCloseTo(20.02, 12);
    const share = (name: RegExp) => result.substances.find(({ substance }) => name.test(substance))!;
    expect(share(/nootkatone/i).grams).toBeCloseTo(0.08, 12);
    expect(result.percentVol!).toBeGreaterThan(80);
  });

  test('weigh: what is too small for the balance comes from a stock', async () => {
    const result = await document(WeighResult, 'weigh', file, '--readability', '0.01');
    expect(result.stocks.map(({ material }) => material)).toEqual(['grapefruit-oil']);
    expect(result.steps.at(-1)!.showTotal).toBeCloseTo(20.02, 9);
    for (const { grams, relativeError } of result.steps)
      expect(relativeError).toBeCloseTo(0.01 / Math.sqrt(6) / grams, 12);
    const fine = await document(WeighResult, 'weigh', file, '--readability', '0.0001');
    expect(fine.stocks).toEqual([]);
  });

  test('dose: what reaches the glass, limits and what could not be checked', async () => {
    const args = ['dose', file, '--syrup-dose', '1.5', '--syrup-per-drink', '30', '--drink', '180'];
    const result = await document(DoseResult, ...args);
    expect(result.perDrink.millilitres).toBeCloseTo(0.045, 12);
    expect(result.perDrink.drops).toBeNull();
    expect(result.unchecked.map(({ material }) => material).join()).toMatch(/grapefruit/i);
    const counted = await document(DoseResult, ...args, '--drop-grams', '0.02');
    expect(counted.perDrink.drops!).toBeCloseTo(counted.perDrink.grams! / 0.02, 12);
  });

  test.each([
    ['5kg', 5000],
    ['250 g', 250],
    ['1500mg', 1.5],
  ])('scale to %s and back is the same formula', async (to, grams) => {
    const result = await document(ScaleResult, 'scale', file, '--to', to);
    expect(result.grams).toBeCloseTo(grams, 9);
    result.lines.forEach((line, index) => {
      expect(line.grams / grams).toBeCloseTo(FORMULA.lines[index]!.grams / 20.02, 12);
    });
    expect(result.cost!).toBeCloseTo((grams * (0.36 + 0.4 + 0.008 + 0.36)) / 20.02, 9);
  });

  test('scale to a volume', async () => {
    expect((await document(ScaleResult, 'scale', file, '--to', '2L')).millilitres!).toBeCloseTo(2000, 6);
  });

  test.each([
    ['strength', []],
    ['weigh', ['--readability', '0.01']],
    ['dose', ['--syrup-dose', '1.5', '--syrup-per-drink', '30', '--drink', '180']],
    ['scale', ['--to', '5kg']],
  ])('%s in its readable form begins with a sentence', async (command, more) => {
    const { status, out } = await dropwise('bench', command, file, ...more);
    expect(status).toBe(0);
    expect(out).toMatch(/^[A-Z][^\n]*\.\n\n {2}\w/);
    expect(out).not.toMatch(/NaN|undefined|null|\[object/);
  });
});

const REFUSED: [string, unknown, string][] = [
  [
    'an unknown format',
    changed(FORMULA, ['format'], 'formula/2'),
    'line 2, column 13, format: found "formula/2", allowed "formula/1"',
  ],
  [
    'a negative mass',
    changed(FORMULA, ['lines', 0, 'grams'], -1),
    'lines[0].grams: found -1, allowed a mass in grams, 0 or more',
  ],
  [
    'a mass in words',
    changed(FORMULA, ['lines', 0, 'grams'], '1 g'),
    'lines[0].grams: found "1 g", allowed a finite number',
  ],
  [
    'no mass',
    changed(FORMULA, ['lines', 0, 'grams'], undefined),
    'lines[0].grams: found nothing, allowed a finite number',
  ],
  [
    'all masses zero',
    { ...FORMULA, lines: [{ material: 'water', grams: 0 }] },
    'lines: found masses that are all zero',
  ],
  ['no line', { ...FORMULA, lines: [] }, 'lines: found [], allowed at least 1 entry'],
  [
    'a strength above 100',
    changed(FORMULA, ['lines', 1, 'strength'], 101),
    'lines[1].strength: found 101, allowed a percentage above 0',
  ],
  [
    'alcohol above 100',
    changed(FORMULA, ['lines', 3, 'percentVol'], 101),
    'lines[3].percentVol: found 101, allowed a percentage from 0 to 100',
  ],
  [
    'a density of 0',
    changed(FORMULA, ['lines', 0, 'density'], 0),
    'lines[0].density: found 0, allowed a number above 0',
  ],
  ['no JSON', 'lines: 3', 'line 1, column 1: found "lines", allowed a JSON value'],
];

describe('a formula that is refused', () => {
  test.each(REFUSED)('%s', async (_, formula, message) => {
    const wrong = folder.write('wrong.json', formula as object);
    const { status, out, err } = await dropwise('bench', 'strength', wrong, '--json');
    expect(err).toContain(message);
    expect(err).toContain('wrong.json, ');
    expect({ status, out }).toEqual({ status: 1, out: '' });
  });

  test('a line that contradicts itself is named with its file', async () => {
    const wrong = folder.write('wrong.json', changed(FORMULA, ['lines', 3, 'strength'], 50));
    const { status, err } = await dropwise('bench', 'strength', wrong);
    expect(status).toBe(1);
    expect(err).toMatch(/^dropwise: .*wrong\.json, lines\[3\]/);
  });

  test('an unknown field is passed over with a warning', async () => {
    const odd = folder.write('odd.json', changed(FORMULA, ['lines', 0, 'colour'], 'clear'));
    const { warnings } = await document(StrengthResult, 'strength', odd);
    expect(warnings[0]).toMatch(
      /odd\.json, line \d+, column \d+, lines\[0\]\.colour: unknown field, passed over$/,
    );
  });
});

test('money is told in the currency that a formula or brief names', async () => {
  const named = folder.write('named.json', { ...FORMULA, currency: 'EUR' });
  const shown = await dropwise('bench', 'scale', named, '--to', '1kg');
  expect(shown.out).toMatch(/cost [\d.]+ EUR\.\n/);
  expect(shown.out).toContain('cost, EUR');
  const plain = await dropwise('bench', 'scale', file, '--to', '1kg');
  expect(plain.out).toMatch(/cost [\d.]+ in the unit of the prices\./);
  const result = await document(ScaleResult, 'scale', named, '--to', '1kg');
  expect(result).toMatchObject({ currency: 'EUR' });
  const { components } = pithBrief() as { components?: object[] };
  const priced = {
    ...pithBrief(),
    currency: 'EUR',
    components: components!.map((one) => ({ ...one, pricePerGram: 1 })),
    caps: { costPerLitre: 0.01 },
  };
  const plan = await dropwise('plan', folder.write('priced.json', priced), '--mixes', '5');
  expect(plan.out).toMatch(/Money: 20\.00 EUR\./);
  expect(plan.err).toMatch(/even the cheapest ratio costs [\d.]+ EUR a litre of drink/);
});
