import { describe, expect, test } from 'vitest';
import { draftCard, findCard, publishCard } from '../../../trials/rounds/cards.ts';
import { exportTrial, importTrial } from '../../../trials/rounds/transfer.ts';
import { Card, CardRequest } from '../../../trials/schema/card.ts';
import { checkFormula } from '../../../trials/schema/formula.ts';
import { legalLimits } from '../../../trials/shelf/legal-limits.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData();
const context = contextOf(store);

/** The hidden ratio of the demo's reference, as its notes tell it. */
const RATIOS = { peel: 0.38, noot: 0.2, thiol: 0.12, pink: 0.16, quassia: 0.14 };
const GRAMS = { peel: 1.52, noot: 0.8, thiol: 0.48, pink: 0.64, quassia: 0.56 };
let made = 0;

function proposals(
  given: { grams?: Record<string, number>; settings?: object; input?: object } = {},
): string {
  const reading = `next-${++made}`;
  const best = { ratios: RATIOS, grams: GRAMS, settings: { dose: 0.25 }, chance: 0.7, distance: 2, ...given };
  const predicted = { zest: { mean: 55, interval: [50, 60] } };
  store.readings.add('demo', {
    ...{ reading, kind: 'next', round: 1, at: '2026-03-10T12:00:00.000Z', seed: 1, version: '1' },
    input: given.input ?? {},
    result: { best: { ...best, predicted } },
  });
  return reading;
}
const asked = (given: object = {}) => CardRequest.parse({ reading: proposals(), ...given });

describe('a card of the demo at the ratio of its reference', () => {
  const card = draftCard(context, 'demo', asked());

  test('is a formula that the bench reads: every line, made up with the carrier to the volume of the brief', () => {
    expect(Card.parse(card)).toEqual(card);
    expect('formula' in checkFormula(card.formula)).toBe(true);
    const { lines } = card.formula;
    expect(lines.slice(0, -1).map(({ grams }) => grams)).toEqual(Object.values(GRAMS));
    expect(lines.at(-1)!.material).toBe('ethanol-96');
    // The notes: 4 g filled to 25 mL are about 88 % by volume; 160 mg of mix in a millilitre.
    const total = lines.reduce((sum, { grams }) => sum + grams, 0);
    expect(card.concentrate.grams!).toBeCloseTo(total, 9);
    expect(card.concentrate.grams! / card.concentrate.density!).toBeCloseTo(25, 3);
    expect(Math.abs(card.concentrate.percentVol! - 88)).toBeLessThan(1.5);
  });

  test('reaches in the glass what the notes say, held against limits by name, with what could not be checked', () => {
    // The notes: 0.11 mg/L of quassin at 0.25 mL/L, against 0.5 mg/kg (EU, not verified).
    const quassin = card.substances.find(({ substance }) => substance === 'Quassin')!;
    expect(quassin.mgPerKg! * 1.03).toBeCloseTo(0.112, 3);
    const limit = quassin.limits.find(({ kind }) => kind === 'maximum')!;
    expect(limit).toMatchObject({ limit: 0.5, exceeded: false, verified: false, jurisdiction: 'EU' });
    expect(legalLimits().some(({ source }) => source === limit.source)).toBe(true);
    expect(card.unchecked.map(({ material }) => material).join()).toMatch(/Grapefruit peel oil.*Pink pepper/);
    const cautions = card.cautions.map(({ text }) => text).join(' ');
    expect(cautions).toMatch(/cashew/i);
    expect(cautions).toMatch(/No flame/);
    expect(card.drink!.percentVol).toBeCloseTo(0.022, 4);
  });

  test('costs what its components cost, a batch and a litre of drink', () => {
    // By hand: 1.52·0.35 + 0.8·0.5 + 0.48·0.3 + 0.64·0.4 + 0.56·0.25; a litre holds a hundredth of a batch.
    expect(card.cost.perBatch!).toBeCloseTo(1.472, 9);
    expect(card.cost.perLitreOfDrink!).toBeCloseTo(0.01472, 9);
  });

  test('tells what it rests on, and when to taste it again', () => {
    expect(card.evidence).toMatchObject({ rounds: 1, sittings: 4, tasters: 6, proofs: [] });
    expect(card.ageing.map(({ weeks, due }) => [weeks, due])).toEqual([
      [1, '2026-03-17'],
      [4, '2026-04-07'],
      [12, '2026-06-02'],
    ]);
  });

  test('a limit exceeded on purpose stands on it', () => {
    const grams = { ...GRAMS, quassia: 4 };
    const strong = draftCard(
      context,
      'demo',
      CardRequest.parse({ reading: proposals({ grams, settings: { dose: 0.33 } }) }),
    );
    const exceeded = strong.substances.flatMap(({ substance, limits }) =>
      limits.filter((limit) => limit.exceeded).map(() => substance),
    );
    expect(exceeded).toContain('Quassin');
    expect(strong.warnings.join()).toMatch(/Quassin: .*0\.5 mg\/kg/);
  });
});

describe('published cards', () => {
  test('are numbered, never changed, and travel with the trial', () => {
    const first = publishCard(context, 'demo', asked({ sizes: [5, 500], weeks: [2], note: 'for the bar' }));
    const second = publishCard(context, 'demo', asked());
    expect([first.version, second.version]).toEqual([1, 2]);
    expect(findCard(context, 'demo', 1)).toEqual(first);
    expect(first).toMatchObject({ sizes: [5, 500], note: 'for the bar', ageing: [{ weeks: 2 }] });
    expect(() => store.cards.add('demo', 'next-1', first)).toThrow();
    expect(store.acts.list('demo').map(({ act }) => act)).toContain('published the card');
    const { trial } = importTrial(context, JSON.parse(JSON.stringify(exportTrial(context, 'demo'))));
    expect(store.cards.list(trial)).toEqual([first, second]);
    const older = JSON.parse(JSON.stringify(exportTrial(context, 'demo')));
    delete older.tables.cards;
    expect(store.cards.list(importTrial(context, older).trial)).toEqual([]);
  });

  test('of what is not there, or of other targets tried out, are refused', () => {
    const refused = (reading: string) =>
      refusalOf(() => publishCard(context, 'demo', CardRequest.parse({ reading }))).message;
    expect(refused('next-99')).toMatch(/is not there/);
    expect(refused(proposals({ input: { whatIf: {} } }))).toMatch(/not a trial of other targets/);
    expect(refusalOf(() => findCard(context, 'demo', 9)).code).toBe('not-found');
    expect(CardRequest.safeParse({ reading: 'x', sizes: [0] }).success).toBe(false);
    expect(CardRequest.safeParse({ reading: 'x', weeks: [-1] }).success).toBe(false);
  });
});
