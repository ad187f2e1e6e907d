import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { draftCard } from '../../../trials/rounds/cards.ts';
import { judgeBrief } from '../../../trials/rounds/judge-brief.ts';
import { compute } from '../../../trials/rounds/operations.ts';
import {
  addLimit,
  changeLimit,
  limitViews,
  ownLimitsIn,
  takeLimitAway,
} from '../../../trials/rounds/own-limits.ts';
import { assignPlan } from '../../../trials/rounds/readings.ts';
import { trialTables } from '../../../trials/rounds/trial-tables.ts';
import { trialView } from '../../../trials/rounds/trial-view.ts';
import { PlanRequest } from '../../../trials/schema/api.ts';
import { CardRequest } from '../../../trials/schema/card.ts';
import { checkMaterials } from '../../../trials/schema/own-materials.ts';
import { OwnLimit } from '../../../trials/schema/shelf-shapes.ts';
import { loadSolver } from '../../../trials/solver.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';
import { dropwise, Folder } from '../support/command-line.ts';

const solver = await loadSolver();
/** The demo's brief lets 0.256 mg/kg of quassin into the drink: 0.33 mL/L of 160 mg/mL, a quarter of it a 2 % extract. */
const MOST = (0.33 * 160 * 0.25 * 0.02) / 1.03;
const LETTER = OwnLimit.parse({
  substance: 'Quassin',
  limit: 0.1,
  only: 'soft drinks for children',
  drinks: 'non-alcoholic',
  jurisdiction: 'customer',
  source: 'letter of May',
});

/** A demo of its own. */
function demoHouse() {
  const store = storeWithData();
  const context = contextOf(store);
  const { brief } = trialView(context, 'demo');
  const judged = () => judgeBrief(brief, { solver, limits: ownLimitsIn(store) });
  const ofQuassin = () =>
    judged()
      .substances.find(({ substance }) => substance === 'Quassin')
      ?.limits.filter(({ own }) => own);
  return { store, context, judged, ofQuassin };
}

describe('a limit of the maker’s own', () => {
  test('is judged in the brief beside the legal ones, as an own figure, with its category', () => {
    const { context, judged, ofQuassin } = demoHouse();
    expect(ofQuassin()).toEqual([]);
    addLimit(context, LETTER);
    expect(ofQuassin()).toEqual([
      expect.objectContaining({
        limit: 0.1,
        own: true,
        verified: false,
        exceeded: true,
        jurisdiction: 'customer',
      }),
    ]);
    expect(judged().substances.find(({ substance }) => substance === 'Quassin')!.mostMgPerKg).toBeCloseTo(
      MOST,
      9,
    );
    expect(judged().warnings).toContain(
      'this brief allows too much: Quassin: 0.256 mg/kg in the drink against 0.1 mg/kg (maximum, customer, ' +
        'soft drinks for children; letter of May; your own figure: check the law where you sell)',
    );
  });

  test('of a whole material is found by its name, of the other kind of drink asks nothing', () => {
    const { context, judged } = demoHouse();
    addLimit(
      context,
      OwnLimit.parse({ ...LETTER, substance: 'grapefruit peel oil, washed', limit: 1, only: null }),
    );
    addLimit(context, OwnLimit.parse({ ...LETTER, drinks: 'alcoholic' }));
    const own = judged().substances.flatMap(({ substance, limits }) =>
      limits.filter((limit) => limit.own).map(({ exceeded }) => [substance, exceeded]),
    );
    expect(own).toEqual([['Grapefruit peel oil, washed (terpene-reduced)', true]]);
  });

  test('is changed, taken away and brought back, each as an act of the house; the number stays its own', () => {
    const { store, context, ofQuassin } = demoHouse();
    addLimit(context, LETTER);
    changeLimit(context, 1, { ...LETTER, limit: 0.3 });
    expect(ofQuassin()!.map(({ limit, exceeded }) => [limit, exceeded])).toEqual([[0.3, false]]);
    expect(takeLimitAway(context, 1).every(({ own }) => own === null)).toBe(true);
    expect(ofQuassin()).toEqual([]);
    takeLimitAway(context, 1);
    addLimit(context, { ...LETTER, substance: 'Nootkatone' });
    const views = changeLimit(context, 1, LETTER);
    expect(views.filter(({ own }) => own !== null).map(({ own, substance }) => [own, substance])).toEqual([
      [1, 'Quassin'],
      [2, 'Nootkatone'],
    ]);
    expect(refusalOf(() => changeLimit(context, 3, LETTER)).code).toBe('not-found');
    expect(refusalOf(() => takeLimitAway(context, 3)).code).toBe('not-found');
    expect(store.shelf.limits()).toHaveLength(2);
  });

  test('holds in a plan of the workbench and on the card', async () => {
    const { store, context } = demoHouse();
    const asked = PlanRequest.parse({ mixes: 5, model: 'linear' });
    expect(assignPlan(context, 'demo', asked).input).not.toHaveProperty('limits');
    addLimit(context, LETTER);
    const { kind, input, seed } = assignPlan(context, 'demo', asked);
    const { warnings } = (await compute(kind, JSON.parse(JSON.stringify(input)), seed)) as {
      warnings: string[];
    };
    expect(warnings.filter((text) => text.includes('letter of May'))).toHaveLength(1);

    const best = {
      ratios: { peel: 0.38, noot: 0.2, thiol: 0.12, pink: 0.16, quassia: 0.14 },
      grams: { peel: 1.52, noot: 0.8, thiol: 0.48, pink: 0.64, quassia: 0.56 },
      settings: { dose: 0.25 },
    };
    store.readings.add('demo', {
      ...{ reading: 'next-9', kind: 'next', round: 1, at: '2026-03-10T12:00:00.000Z', seed: 1, version: '1' },
      ...{ input: {}, result: { best } },
    });
    const card = draftCard(context, 'demo', CardRequest.parse({ reading: 'next-9' }));
    const quassin = card.substances.find(({ substance }) => substance === 'Quassin')!;
    // 0.25 mL/L of 160 mg/mL, 0.14 of it the extract of 2 %: 0.109 mg/kg, just above the letter's 0.1.
    expect(quassin.mgPerKg).toBeCloseTo((0.25 * 160 * 0.14 * 0.02) / 1.03, 3);
    expect(quassin.limits.filter(({ own }) => own).map(({ exceeded }) => exceeded)).toEqual([true]);
    expect(card.warnings.join()).toContain('letter of May; your own figure: check the law where you sell');
  });
});

describe('the file that the workbench hands out', () => {
  let folder: Folder;
  beforeAll(() => {
    folder = new Folder();
  });
  afterAll(() => folder.remove());

  test('holds own limits as they were entered, and the command judges by them as the workbench does', async () => {
    const { store, context } = demoHouse();
    addLimit(context, LETTER);
    addLimit(context, OwnLimit.parse({ substance: 'Nootkatone', kind: 'banned', limit: 0, source: 'ours' }));
    addLimit(context, OwnLimit.parse({ ...LETTER, substance: 'gone' }));
    takeLimitAway(context, 3);
    const files = trialTables(store, 'demo');
    const text = files.find(({ name }) => name === 'materials.json')!.text;
    const read = checkMaterials(JSON.parse(text));
    expect(read).toEqual({ materials: [], limits: ownLimitsIn(store), warnings: [] });

    const materials = folder.write('materials.json', JSON.parse(text));
    const brief = folder.write(
      'brief.json',
      JSON.parse(files.find(({ name }) => name === 'brief.json')!.text),
    );
    const { out } = await dropwise(
      'plan',
      brief,
      '--mixes',
      '5',
      '--model',
      'linear',
      '--materials',
      materials,
      '--json',
    );
    const { kind, input, seed } = assignPlan(
      context,
      'demo',
      PlanRequest.parse({ mixes: 5, model: 'linear' }),
    );
    const said = (warnings: string[]) => warnings.filter((one) => one.includes('own figure'));
    const here = (await compute(kind, { ...(input as object), already: [] }, seed)) as { warnings: string[] };
    expect(said(JSON.parse(out).warnings)).toHaveLength(2);
    expect(said(JSON.parse(out).warnings)).toEqual(said(here.warnings));
  });
});

test('own limits come before the legal ones, which are as they were', () => {
  const { store, context } = demoHouse();
  const legal = limitViews(store);
  expect(legal.every(({ own }) => own === null)).toBe(true);
  expect(addLimit(context, LETTER).slice(1)).toEqual(legal);
});
