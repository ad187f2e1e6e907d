import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readMaterials } from '../../../trials/files/read-json-files.ts';
import { keepMaterial } from '../../../trials/rounds/keep-lots.ts';
import { trialTables } from '../../../trials/rounds/trial-tables.ts';
import { OwnMaterial } from '../../../trials/schema/shelf-shapes.ts';
import { plannedTrial } from '../../support/small-trial.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';
import { changed, pithBrief } from '../support/briefs.ts';
import { dropwise, Folder } from '../support/command-line.ts';

const OWN = {
  format: 'materials/1',
  materials: [
    {
      name: 'Yuzu oil, washed',
      kind: 'essential oil',
      density: 0.9,
      pricePerGram: 2,
      allergens: 'citrus; tell who reacts to it',
      hazards: 'irritates skin',
      constituents: [{ substance: 'Methyl N-methylanthranilate', cas: '85-91-6', mostPercent: 10 }],
      clearIn: { percentVol: 70, parts: 5 },
      source: 'sheet of 2026',
    },
    {
      id: 'd-limonene',
      name: 'Limonene, our drum',
      kind: 'aroma chemical',
      density: 0.84,
      source: 'weighed here',
    },
  ],
  limits: [
    {
      substance: 'Methyl N-methylanthranilate',
      cas: '85-91-6',
      limit: 0.5,
      jurisdiction: 'customer',
      source: 'letter',
    },
  ],
};
const FORMULA = {
  format: 'formula/1',
  name: 'Yuzu',
  lines: [
    { material: 'yuzu-oil-washed', grams: 1 },
    { material: 'd-limonene', grams: 1 },
    { material: 'ethanol-96', grams: 18 },
  ],
};

let folder: Folder;
let own: string;
let formula: string;
beforeAll(() => {
  folder = new Folder();
  own = folder.write('own.json', OWN);
  formula = folder.write('formula.json', FORMULA);
});
afterAll(() => {
  folder.remove();
});

async function json(...args: string[]) {
  const { status, out, err } = await dropwise(...args, '--json');
  expect(status, err).toBe(0);
  return JSON.parse(out);
}
const DOSE = ['--syrup-dose', '2', '--syrup-per-drink', '30', '--drink', '150'];

describe('own materials reach the commands', () => {
  test('density: a volume and a strength where there was none', async () => {
    expect((await json('bench', 'strength', formula)).millilitres).toBeNull();
    const { millilitres, substances } = await json('bench', 'strength', formula, '--materials', own);
    // By hand: 1 g at 0.90, 1 g at our own 0.84, 18 g of 96 % spirit at 0.80742 g/mL.
    expect(millilitres).toBeCloseTo(1 / 0.9 + 1 / 0.84 + 18 / 0.80742, 3);
    expect(substances.map(({ substance }: { substance: string }) => substance)).toContain('Yuzu oil, washed');
  });

  test('price: a cost of a batch', async () => {
    const priced = changed(
      changed(FORMULA, ['lines', 1, 'pricePerGram'], 0.1),
      ['lines', 2, 'pricePerGram'],
      0.01,
    );
    const file = folder.write('priced.json', priced);
    expect((await json('bench', 'scale', file, '--to', '20g')).cost).toBeNull();
    const { cost } = await json('bench', 'scale', file, '--to', '20g', '--materials', own);
    expect(cost).toBeCloseTo(1 * 2 + 0.1 + 0.18, 9);
  });

  test('limits, cautions and clearness: what it holds, against one’s own limit', async () => {
    const { drink, cautions, chain, unchecked } = await json(
      'bench',
      'dose',
      formula,
      ...DOSE,
      '--materials',
      own,
    );
    const found = drink.substances.find(({ cas }: { cas: string }) => cas === '85-91-6');
    const oil = drink.substances.find(
      ({ substance }: { substance: string }) => substance === 'Yuzu oil, washed',
    );
    expect(found.mgPerKg).toBeCloseTo(0.1 * oil.mgPerKg, 9);
    expect(found.limits).toContainEqual(
      expect.objectContaining({ limit: 0.5, jurisdiction: 'customer', verified: false, exceeded: true }),
    );
    const texts = cautions.map(({ text }: { text: string }) => text).join(' ');
    expect(texts).toContain('citrus; tell who reacts to it');
    expect(texts).toContain('irritates skin');
    expect(unchecked.map(({ material }: { material: string }) => material).join()).toContain('Yuzu');
    const bottle = chain.find(({ place }: { place: string }) => place === 'The concentrate');
    expect(bottle.says).toContain('Limonene, our drum');
    expect(bottle.says).not.toContain('Yuzu');
    const without = await json('bench', 'dose', formula, ...DOSE);
    expect(JSON.stringify(without.cautions)).not.toContain('irritates skin');
  });

  test('a weighing plan names them', async () => {
    const { steps } = await json('bench', 'weigh', formula, '--readability', '0.01', '--materials', own);
    expect(steps.length).toBe(3);
  });

  test('the brief of a plan is held against them', async () => {
    const brief = folder.write(
      'brief.json',
      changed(pithBrief(), ['components', 0, 'material'], 'Yuzu oil, washed'),
    );
    const said = async (...more: string[]) =>
      (await json('plan', brief, '--mixes', '5', ...more)).warnings.join(' ');
    expect(await said()).not.toContain('Methyl N-methylanthranilate');
    expect(await said('--materials', own)).toMatch(
      /this brief allows too much: Methyl N-methylanthranilate: .*letter/,
    );
  });
});

describe('a file of materials that is wrong is refused with its place, and nothing is told', () => {
  test.each<[string, object, RegExp]>([
    ['a format', changed(OWN, ['format'], 'materials/2'), /own\.json.*format: found "materials\/2"/],
    ['a density', changed(OWN, ['materials', 0, 'density'], 9), /materials\[0\]\.density: found 9/],
    ['a check digit', changed(OWN, ['materials', 0, 'cas'], '64-17-6'), /materials\[0\]\.cas: .*check digit/],
    ['no source', changed(OWN, ['materials', 1, 'source'], undefined), /materials\[1\]\.source/],
    [
      'an id twice',
      changed(OWN, ['materials', 1, 'id'], 'yuzu-oil-washed'),
      /materials\[1\]\.id: .*no other/,
    ],
    ['a limit below zero', changed(OWN, ['limits', 0, 'limit'], -1), /limits\[0\]\.limit: found -1/],
  ])('%s', async (_, wrong, message) => {
    const file = folder.write('wrong-own.json', wrong);
    const { status, out, err } = await dropwise('bench', 'strength', formula, '--materials', file);
    expect([status, out]).toEqual([1, '']);
    expect(err.replace('wrong-own.json', 'own.json')).toMatch(message);
  });

  test('unknown fields are told, a file that is not there is refused', async () => {
    const more = folder.write('more.json', changed(OWN, ['materials', 0, 'colour'], 'green'));
    const { warnings } = await json('bench', 'strength', formula, '--materials', more);
    expect(warnings.join()).toMatch(/materials\[0\]\.colour: unknown field, passed over/);
    const { status, err } = await dropwise('bench', 'strength', formula, '--materials', 'nowhere.json');
    expect(status).toBe(1);
    expect(err).toContain('no such file');
  });
});

test('what the workbench keeps is exported as a file that the command reads, and comes out as it was kept', () => {
  const store = storeWithData({ demo: false });
  const context = contextOf(store);
  const trial = plannedTrial(context);
  const files = () => trialTables(store, trial).find(({ name }) => name === 'materials.json');
  expect(files()).toBeUndefined();
  const material = OwnMaterial.parse(OWN.materials[0]);
  keepMaterial(context, 'yuzu-oil-washed', material);
  const read = readMaterials(files()!.text, 'materials.json');
  expect(read.warnings).toEqual([]);
  expect(read.materials).toEqual(store.shelf.materials());
});
