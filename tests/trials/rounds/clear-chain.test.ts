import { describe, expect, test } from 'vitest';
import { doseOperation } from '../../../trials/rounds/bench-operations.ts';
import { judgeBrief } from '../../../trials/rounds/judge-brief.ts';
import { keepMaterial } from '../../../trials/rounds/keep-lots.ts';
import { shelfIn } from '../../../trials/rounds/shelf-view.ts';
import { checkBrief } from '../../../trials/schema/check-brief.ts';
import { Formula } from '../../../trials/schema/formula-shape.ts';
import { OwnMaterial } from '../../../trials/schema/shelf-shapes.ts';
import { loadSolver } from '../../../trials/solver.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';
import { changed, pithBrief } from '../support/briefs.ts';

const solver = await loadSolver();

describe('from stock to glass', () => {
  const formula = Formula.parse({
    format: 'formula/1',
    name: 'Mint and lemon',
    lines: [
      { material: 'lemon-oil', grams: 0.5 },
      { material: 'sweet-orange-oil', grams: 0.5, strength: 10, solvent: 'ethanol' },
      { material: 'ethanol-96', grams: 15 },
      { material: 'water', grams: 4 },
    ],
  });
  const dose = (amounts: object) =>
    doseOperation({ formula, syrupDose: 2, syrupPerDrink: 30, drink: 180, ...amounts });

  test('each liquid with its strength and what it holds, by hand', () => {
    const { chain, drink, cautions } = dose({});
    expect(chain.map(({ place }) => place)).toEqual([
      'sweet-orange-oil',
      'The concentrate',
      'The syrup',
      'The drink',
    ]);
    const [stock, concentrate, syrup, glass] = chain;
    expect(stock).toMatchObject({ clearness: 'clear', mgPerKg: expect.closeTo(100_000, 6) });
    // 0.55 g of oils in 20 g.
    expect(concentrate!.mgPerKg).toBeCloseTo(27_500, 6);
    expect(concentrate!.percentVol).toBeGreaterThan(60);
    expect(concentrate!.clearness).toBe('look');
    expect(syrup!.percentVol).toBeCloseTo((concentrate!.percentVol! * 2) / 1000, 9);
    expect(syrup!.clearness).toBe('can-fall-out');
    const oils = drink.substances.filter(({ substance }) => /oil/.test(substance));
    expect(glass!.mgPerKg).toBeCloseTo(
      oils.reduce((sum, { mgPerKg }) => sum + mgPerKg!, 0),
      6,
    );
    expect(glass!.percentVol).toBe(drink.percentVol);
    const haze = cautions.filter(({ about }) => about === 'haze').map(({ text }) => text.split(':')[0]);
    expect(haze).toEqual(['The concentrate', 'The syrup']);
    const strong = dose({ syrupDose: 20 }).cautions.filter(({ about }) => about === 'haze');
    expect(strong.map(({ text }) => text.split(':')[0])).toEqual([
      'The drink',
      'The concentrate',
      'The syrup',
    ]);
  });
});

describe('the brief', () => {
  const briefOf = (material: string) => {
    const checked = checkBrief(
      changed(
        changed(pithBrief(), ['components', 1, 'material'], material),
        ['components', 1, 'stocks'],
        [5],
      ),
    );
    if ('faults' in checked) throw new Error(checked.faults[0]!.message);
    return checked.brief;
  };

  test('takes the most oil that the region lets in and the highest dose', () => {
    const { chain } = judgeBrief(briefOf('lemon-oil'), { solver });
    const at = (place: string) => chain.find((one) => one.place === place)!;
    expect(at('Lime oil, the 5 % stock')).toMatchObject({ clearness: 'clear', mgPerKg: 50_000 });
    // At most 0.6 peel and 0.3 lime, and together at most 0.8; both are oils of the shelf.
    const oilPerLitre = 0.33 * (4 / 25) * 0.8 * 1000;
    expect(at('The drink').mgPerKg).toBeCloseTo(oilPerLitre / 1.03, 6);
    expect(at('The concentrate').clearness).toBe('look');
  });

  test('an own material’s sheet goes before the rule of thumb, for itself', () => {
    const store = storeWithData({ demo: false });
    const own = OwnMaterial.parse({
      name: 'Washed lime oil',
      kind: 'essential oil',
      density: 0.88,
      clearIn: { percentVol: 70, parts: 4 },
      source: 'sheet of 2026',
    });
    const { materials } = keepMaterial(contextOf(store), 'washed-lime-oil', own);
    expect(materials.find(({ material }) => material === 'washed-lime-oil')).toMatchObject({
      clearIn: { percentVol: 70, parts: 4 },
      sources: { clearIn: { source: 'sheet of 2026', verified: false } },
    });
    const brief = briefOf('washed-lime-oil');
    const inBottle = (peel: string) =>
      judgeBrief(
        { ...brief, components: brief.components.map((one, i) => (i === 0 ? { ...one, name: peel } : one)) },
        { solver, shelf: shelfIn(store) },
      ).chain.find(({ place }) => place === 'The concentrate')!;
    expect(inBottle('Quince essence').clearness).toBe('clear');
    expect(inBottle('Grapefruit peel oil')).toMatchObject({
      clearness: 'look',
      says: expect.not.stringContaining('lime'),
    });
  });

  test('without concentrate or drink says what it can', () => {
    const bare = checkBrief(changed(pithBrief(), ['concentrate'], undefined));
    if ('faults' in bare) throw new Error();
    expect(judgeBrief(bare.brief, { solver }).chain).toEqual([]);
  });
});
