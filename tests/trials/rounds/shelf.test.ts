import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { account, addLot, changeLot, countLot, keepMaterial } from '../../../trials/rounds/keep-lots.ts';
import { ledgerOf } from '../../../trials/rounds/ledger.ts';
import { makeStock } from '../../../trials/rounds/make-stock.ts';
import { findLot, shelfIn, shelfView } from '../../../trials/rounds/shelf-view.ts';
import { weighMix } from '../../../trials/rounds/weigh-mix.ts';
import { NewLot, NewStock, OwnMaterial } from '../../../trials/schema/shelf-shapes.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { plannedTrial } from '../../support/small-trial.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);

const lotOf = (given: Partial<NewLot> = {}) =>
  addLot(context, NewLot.parse({ material: 'nootkatone', label: 'N', grams: 10, ...given })).lot.lot;
const stockOf = (given: object) => makeStock(context, NewStock.parse({ label: 'S', ...given }));
const onHand = (lot: string) => findLot(context, lot).grams;
const weigh = (trial: string, grams: Record<string, number>, lots?: Record<string, string>) =>
  weighMix(context, { trial, round: 1, mix: 'qa1' }, { grams, note: '', lots });

describe('a bottle', () => {
  test('comes, is put right, is counted; its account tells every gram', () => {
    const lot = lotOf({ material: 'Nootkatone', opened: '2026-01-10', bestBefore: '2026-02-01' });
    expect(findLot(context, lot)).toMatchObject({
      material: 'nootkatone',
      grams: 10,
      since: '2026-01-10',
      warnings: ['best before 2026-02-01'],
    });
    expect(changeLot(context, lot, { bestBefore: '2027-02-01', pricePerGram: 4 }).lot).toMatchObject({
      pricePerGram: 4,
      label: 'N',
      warnings: [],
    });
    const { moves } = countLot(context, lot, { grams: 9.4, why: 'evaporated' });
    expect(moves.map(({ grams, left, says }) => [grams, left, says])).toEqual([
      [10, 10, 'came to the shelf'],
      [-0.6, 9.4, 'counted: evaporated'],
    ]);
  });

  test.each([
    [{ material: 'moon dust' }, /material: found "?moon dust"?, allowed a material on the shelf/],
    [{ solvent: 'ethanol-96' }, /solvent: .*strength below 100/],
    [{ strength: 10, solvent: 'Nootkatone' }, /solvent other than what is dissolved/],
    [{ strength: 10, solvent: 'moon dust' }, /solvent: found "?moon dust/],
  ])('with %j is refused, and nothing is kept', (given, words) => {
    const before = store.shelf.lots().length;
    expect(refusalOf(() => lotOf(given)).message).toMatch(words);
    expect(store.shelf.lots()).toHaveLength(before);
  });

  test.each([
    ['grams', 0],
    ['grams', -1],
    ['strength', 0],
    ['strength', 101],
    ['density', 850],
    ['pricePerGram', -1],
    ['opened', '2026-02-30'],
    ['label', 'a\nb'],
  ])('never has %s %s', (field, value) => {
    const sent = { material: 'nootkatone', label: 'N', grams: 10, [field]: value };
    expect(NewLot.safeParse(sent).error?.issues.map(({ path }) => path)).toEqual([[field]]);
  });
});

describe('the maker’s own material', () => {
  const own = (given: object = {}) =>
    OwnMaterial.parse({ name: 'Own oil', kind: 'essential oil', source: 'sheet of March', ...given });

  test('goes before the starter shelf’s, with its source, not verified', () => {
    keepMaterial(
      context,
      'grapefruit-oil',
      own({
        name: 'Grapefruit oil of the house',
        cas: '8016-20-4',
        fema: 2530,
        density: 0.86,
        constituents: [{ substance: 'Nootkatone', cas: '4674-50-4', mostPercent: 1 }],
      }),
    );
    const view = shelfView(context).materials.filter(({ material }) => material === 'grapefruit-oil');
    expect(view).toHaveLength(1);
    expect(view[0]).toMatchObject({ own: true, density: 0.86, constituents: [{ mostPercent: 1 }] });
    expect(view[0]!.sources['density']).toEqual({ source: 'sheet of March', verified: false });
    expect(shelfIn(store).find('grapefruit oil of the house')?.id).toBe('grapefruit-oil');
    const starter = shelfView(context).materials.find(({ material }) => material === 'nootkatone')!;
    expect(starter).toMatchObject({ own: false, cas: '4674-50-4' });
    expect(starter.sources['cas']!.verified).toBe(true);
    expect(starter.sources['use_level']).toEqual({ source: 'from memory', verified: false });
  });

  test.each([
    [{ cas: '8016-20-5' }, 'cas'],
    [{ cas: '8016204' }, 'cas'],
    [{ fema: 1999 }, 'fema'],
    [{ fema: 25.5 }, 'fema'],
    [{ density: 0 }, 'density'],
    [{ source: ' ' }, 'source'],
  ])('with %j is refused at %s', (given, field) => {
    const judged = OwnMaterial.safeParse({ name: 'X', kind: 'extract', source: 'sheet', ...given });
    expect(judged.error?.issues[0]?.path).toEqual([field]);
  });
});

describe('a stock', () => {
  test('takes its material from its bottles and carries their age, price and day to use it by', () => {
    const pure = lotOf({ opened: '2025-11-02', bestBefore: '2026-06-01', pricePerGram: 8 });
    const spirit = lotOf({ material: 'ethanol-96', grams: 100, pricePerGram: 0.02, opened: '2024-01-01' });
    const { lot } = stockOf({ from: pure, grams: 1, solvent: { lot: spirit, grams: 9 } });
    expect(lot).toMatchObject({
      material: 'nootkatone',
      grams: 10,
      strength: 10,
      solvent: 'ethanol-96',
      since: '2025-11-02',
      bestBefore: '2026-06-01',
      pricePerGram: 0.818,
    });
    expect([onHand(pure), onHand(spirit)]).toEqual([9, 91]);
    const weaker = stockOf({ from: lot.lot, grams: 2, solvent: { material: 'ethanol', grams: 18 } });
    expect(weaker.lot).toMatchObject({ strength: 1, grams: 20, since: '2025-11-02', pricePerGram: null });
    expect(account(context, pure).moves.at(-1)).toMatchObject({ grams: -1, says: 'into stock S', left: 9 });
  });

  test('of itself, of nothing, or of more than there is, is refused and takes nothing', () => {
    const pure = lotOf();
    const before = store.shelf.lots().length;
    const refused = (given: object) =>
      refusalOf(() =>
        stockOf({ from: pure, grams: 1, solvent: { material: 'ethanol-96', grams: 9 }, ...given }),
      ).message;
    expect(refused({ solvent: { lot: pure, grams: 9 } })).toMatch(/other than what is dissolved/);
    expect(refused({ solvent: { material: 'nootkatone', grams: 9 } })).toMatch(
      /other than what is dissolved/,
    );
    expect(refused({ solvent: { grams: 9 } })).toMatch(/a bottle of the shelf, or a material/);
    expect(refused({ grams: 10.5 })).toMatch(
      /holds 10 g by its account, and 10\.5 g are taken: count it anew/,
    );
    expect(refused({ from: 'b999' })).toMatch(/b999 of the shelf is not there/);
    expect(store.shelf.lots()).toHaveLength(before);
    expect(onHand(pure)).toBe(10);
  });
});

describe('weighing a mix', () => {
  test('takes from the named bottles; weighed anew, the shelf is as if it had been right at once', () => {
    const trial = plannedTrial(context);
    const [peel, lime] = [lotOf({ grams: 5, label: 'peel' }), lotOf({ grams: 5, label: 'lime' })];
    const lots = { peelOil: peel, limeOil: lime };
    weigh(trial, { peelOil: 2, limeOil: 1, woodOil: 1 }, lots);
    expect([onHand(peel), onHand(lime)]).toEqual([3, 4]);
    const view = weigh(trial, { peelOil: 2.5, limeOil: 1, woodOil: 1 });
    expect([onHand(peel), onHand(lime)]).toEqual([2.5, 4]);
    expect(view.mixes[0]).toMatchObject({ weighed: { peelOil: 2.5 }, lots });
    weigh(trial, { peelOil: 2, limeOil: 1, woodOil: 1 }, { limeOil: peel });
    expect([onHand(peel), onHand(lime)]).toEqual([4, 5]);
    const { bottles, totals } = ledgerOf(context, trial);
    expect(bottles).toMatchObject([{ blend: 'qa1', corrected: 2, from: { limeOil: 'peel' }, cups: 0 }]);
    expect(totals.map(({ grams, cost }) => [grams, cost])).toEqual([
      [2, null],
      [1, null],
      [1, null],
    ]);
  });

  test('of more than a bottle holds is refused, says what settles it, and changes nothing', () => {
    const trial = plannedTrial(context);
    const peel = lotOf({ grams: 2 });
    const grams = { peelOil: 2.5, limeOil: 1, woodOil: 1 };
    const refusal = refusalOf(() => weigh(trial, grams, { peelOil: peel }));
    expect(refusal.code).toBe('conflict');
    expect(refusal.message).toMatch(/holds 2 g .* 2\.5 g are taken: count it anew on the shelf, or name/);
    expect(store.rounds.weighings(trial)).toEqual([]);
    expect(onHand(peel)).toBe(2);
    expect(refusalOf(() => weigh(trial, grams, { gin: peel })).message).toMatch(/lots\.gin/);
    expect(refusalOf(() => weigh(trial, grams, { peelOil: 'b999' })).code).toBe('not-found');
    expect(weigh(trial, grams).mixes[0]!.weighed).toEqual(grams);
  });

  test('conserves mass: whatever is stocked and weighed, grams in are grams out, and substance too', () => {
    const step = fc.record({
      from: fc.nat(5),
      grams: fc.integer({ min: 1, max: 300 }),
      solvent: fc.integer({ min: 1, max: 900 }),
    });
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 8 }), (steps) => {
        const pure = lotOf({ grams: 5 });
        const spirit = lotOf({ material: 'ethanol-96', grams: 50 });
        const nootkatone = [pure];
        for (const { from, grams, solvent } of steps) {
          const source = nootkatone[from % nootkatone.length]!;
          const asked = {
            from: source,
            grams: grams / 100,
            solvent: { lot: spirit, grams: solvent / 100 },
          };
          const possible = onHand(source) >= asked.grams && onHand(spirit) >= asked.solvent.grams;
          if (possible) nootkatone.push(stockOf(asked).lot.lot);
          else expect(refusalOf(() => stockOf(asked)).code).toBe('conflict');
        }
        const held = nootkatone.map((lot) => findLot(context, lot));
        const total = held.reduce((sum, { grams }) => sum + grams, onHand(spirit));
        const substance = held.reduce((sum, { grams, strength }) => sum + (grams * strength) / 100, 0);
        expect(total).toBeCloseTo(55, 7);
        expect(substance).toBeCloseTo(5, 7);
      }),
      { seed: 7, numRuns: 25 },
    );
  });
});
