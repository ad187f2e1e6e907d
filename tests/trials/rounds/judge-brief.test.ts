import { describe, expect, test } from 'vitest';
import demo from '../../../trials/demo/brief.json' with { type: 'json' };
import { judgeBrief } from '../../../trials/rounds/judge-brief.ts';
import { planOperation } from '../../../trials/rounds/plan-operation.ts';
import type { Brief } from '../../../trials/schema/brief.ts';
import { checkBrief } from '../../../trials/schema/check-brief.ts';
import { loadSolver } from '../../../trials/solver.ts';

const solver = await loadSolver();

function briefWith(change: (brief: typeof demo) => unknown): Brief {
  const brief = structuredClone(demo);
  change(brief);
  const judged = checkBrief(brief);
  if ('faults' in judged) throw new Error(judged.faults[0]!.message);
  return judged.brief;
}

const quassinOf = (brief: Brief) =>
  judgeBrief(brief, { solver }).substances.find(({ substance }) => substance === 'Quassin')!;

describe('a brief against limits, before anything is mixed', () => {
  test('the demo keeps the limit of quassin, by hand: a quarter of the mix at the highest dose', () => {
    // 0.33 mL/L of 4 g in 25 mL: 52.8 mg of mix a litre, a quarter of it an extract of 2 %, in a drink of 1.03 g/mL.
    const { mostMgPerKg, limits } = quassinOf(briefWith(() => undefined));
    expect(mostMgPerKg).toBeCloseTo((0.33 * (4000 / 25) * 0.25 * 0.02) / 1.03, 9);
    expect(limits.map(({ kind, limit, exceeded }) => [kind, limit, exceeded])).toEqual([
      ['banned as such', 0, false],
      ['maximum', 0.5, false],
    ]);
  });

  test('twice the dose goes past it: caught in the brief and in its plan, with source and doubt', async () => {
    const strong = briefWith((brief) => {
      brief.settings[0]!.high = 0.66;
    });
    const { limits } = quassinOf(strong);
    expect(limits.find(({ kind }) => kind === 'maximum')).toMatchObject({
      exceeded: true,
      verified: false,
      source: expect.stringContaining('1334/2008'),
    });
    const said =
      /this brief allows too much: Quassin: 0\.513 mg\/kg.*0\.5 mg\/kg.*1334\/2008.*not been verified/;
    expect(judgeBrief(strong, { solver }).warnings[0]).toMatch(said);
    const plan = await planOperation({ brief: strong, mixes: 5, model: 'linear', seed: 1 }, { solver });
    expect(plan.warnings.some((text) => said.test(text))).toBe(true);
  });

  test('a bound on the extract is part of the region: the same dose is kept under it', () => {
    const bounded = briefWith((brief) => {
      brief.settings[0]!.high = 0.66;
      (brief.bounds as object[]).push({ of: { quassia: 1 }, most: 0.2 });
    });
    expect(quassinOf(bounded).mostMgPerKg).toBeCloseTo((0.66 * 160 * 0.2 * 0.02) / 1.03, 9);
    expect(judgeBrief(bounded, { solver }).warnings.join()).not.toContain('too much');
  });

  test('an alcoholic drink is asked the rows of alcoholic drinks, another country its own', () => {
    const strong = briefWith((brief) => {
      brief.settings[0]!.high = 0.66;
      brief.drink.percentVol = 5;
    });
    expect(quassinOf(strong).limits.map(({ limit, exceeded }) => [limit, exceeded])).toEqual([
      [0, false],
      [1.5, false],
    ]);
    const american = briefWith((brief) => {
      brief.settings[0]!.high = 0.66;
      brief.caps.jurisdictions = ['US'];
    });
    expect(judgeBrief(american, { solver }).substances.map(({ substance }) => substance)).not.toContain(
      'Quassin',
    );
  });

  test('what is made of unknown things is listed, never passed over', () => {
    const { unchecked, warnings } = judgeBrief(
      briefWith(() => undefined),
      { solver },
    );
    expect(unchecked.map(({ material }) => material)).toEqual([
      'Grapefruit peel oil, washed (terpene-reduced)',
      'Pink pepper berry extract',
    ]);
    expect(warnings.join()).toMatch(/not held against limits: Grapefruit peel oil.*Pink pepper/);
  });

  test('ethanol is counted as poured, through the dilution, against the cap', () => {
    const { ethanol, warnings } = judgeBrief(
      briefWith((brief) => {
        brief.caps.ethanolGramsPerSitting = 0.1;
      }),
      { solver },
    );
    // The demo's own account: about 0.3 g in four cups of 40 mL at the middle dose, a third more at the highest.
    expect(ethanol).toMatchObject({ diluted: true, exceeded: true, cap: 0.1 });
    expect(ethanol.gramsPerSitting!).toBeGreaterThan(0.3);
    expect(ethanol.gramsPerSitting!).toBeLessThan(0.45);
    expect(warnings.join()).toMatch(/4 cups at the highest dose hold 0\.\d+ g of ethanol.*will be refused/);
  });

  test('cost of a litre, cheapest and dearest, against the cap; without a price it is not known', () => {
    const dear = judgeBrief(
      briefWith((brief) => {
        (brief.caps as { costPerLitre?: number }).costPerLitre = 0.01;
      }),
      { solver },
    );
    // Prices run from 0.25 to 0.5 a gram; 0.0528 g of mix a litre.
    expect(dear.cost.leastPerLitre!).toBeGreaterThan(0.25 * 0.0528);
    expect(dear.cost.mostPerLitre!).toBeLessThan(0.5 * 0.0528);
    expect(dear.warnings.join()).toMatch(
      /even the cheapest ratio costs 0\.01\d* in the unit of the prices a litre/,
    );
    const unpriced = briefWith((brief) => {
      delete (brief.components[1] as { pricePerGram?: number }).pricePerGram;
    });
    expect(judgeBrief(unpriced, { solver }).cost).toMatchObject({
      mostPerLitre: null,
      because: expect.stringContaining('Nootkatone'),
    });
  });

  test('says that it cannot tell where the brief names no drink', () => {
    const dry = briefWith((brief) => {
      delete (brief as { drink?: unknown }).drink;
    });
    expect(judgeBrief(dry, { solver })).toMatchObject({
      drink: null,
      substances: [],
      warnings: [expect.stringContaining('cannot be checked')],
    });
  });
});
