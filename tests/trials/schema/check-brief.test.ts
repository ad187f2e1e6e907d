import { describe, expect, test } from 'vitest';
import { checkBrief } from '../../../trials/schema/check-brief.ts';
import { toAttributes, toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import { changed, pithBrief } from '../support/briefs.ts';

function faultsOf(value: unknown): string[] {
  const judged = checkBrief(value);
  return 'faults' in judged ? judged.faults.map(({ message }) => message) : [];
}

function accepted(value: unknown) {
  const judged = checkBrief(value);
  if ('faults' in judged) throw new Error(judged.faults.map(({ message }) => message).join('\n'));
  return judged;
}

const REFUSED: [(string | number)[], unknown, string][] = [
  [['format'], 'brief/2', 'format: found "brief/2", allowed "brief/1"'],
  [['format'], undefined, 'format: found nothing, allowed "brief/1"'],
  [['components', 0, 'id'], '__proto__', 'components[0].id: found "__proto__", allowed 1 to 40 letters'],
  [['components', 0, 'id'], '1peel', 'components[0].id: found "1peel", allowed 1 to 40 letters'],
  [['components', 0, 'id'], 'p'.repeat(41), 'allowed 1 to 40 letters'],
  [['components', 0, 'id'], 'péel', 'allowed 1 to 40 letters'],
  [['components', 0, 'id'], 'lime', 'components[1].id: found "lime", allowed an id of its own'],
  [['attributes', 0, 'id'], 'dose', 'attributes[0].id: found "dose", allowed an id of its own'],
  [['attributes', 0, 'id'], 'session', 'attributes[0].id: found "session", allowed any id but'],
  [['components', 0, 'id'], 'round', 'components[0].id: found "round", allowed any id but'],
  [['components', 0, 'low'], 0.7, 'components[0].high: found 0.6, allowed at least low (0.7)'],
  [['components', 0, 'low'], -0.1, 'components[0].low: found -0.1, allowed a number from 0 to 1'],
  [['components', 0, 'high'], 1.5, 'components[0].high: found 1.5, allowed a number from 0 to 1'],
  [['components', 0, 'low'], '0.1', 'components[0].low: found "0.1", allowed a finite number'],
  [['components', 3, 'strength'], 101, 'components[3].strength: found 101, allowed a number of at most 100'],
  [['components', 2, 'stocks'], [100], 'components[2].stocks[0]: found 100, allowed a number below 100'],
  [['components'], [{ id: 'a' }], 'components: found [{"id":"a"}], allowed at least 2 entries'],
  [['bounds', 0, 'of'], { rose: 1 }, 'bounds[0].of.rose: found "rose", allowed the id of a component'],
  [['bounds', 0, 'of'], {}, 'bounds[0].of: found {}, allowed at least one component'],
  [['bounds', 0, 'least'], 0.9, 'bounds[0].most: found 0.8, allowed at least 0.9'],
  [['settings', 0, 'low'], 0.4, 'settings[0].high: found 0.33, allowed at least low (0.4)'],
  [['settings', 0, 'acts'], 'both', 'settings[0].acts: found "both", allowed "each" or "whole"'],
  [['batch', 'grams'], 0, 'batch.grams: found 0, allowed a number above 0'],
  [['batch'], undefined, 'batch: found nothing, allowed an object'],
  [['attributes', 0, 'target'], 101, 'attributes[0].target: found 101, allowed on the scale, 0 to 100'],
  [['attributes', 1, 'target'], [-1, 60], 'attributes[1].target[0]: found -1, allowed on the scale'],
  [['attributes', 1, 'target'], [60, 40], 'attributes[1].target: found [60,40], allowed a range'],
  [['attributes', 1, 'target'], 'high', 'attributes[1].target: found "high", allowed a number, a range'],
  [['attributes', 1, 'scale'], [5, 5], 'attributes[1].scale: found [5,5], allowed two ends'],
  [['attributes', 0, 'tolerance'], 0, 'attributes[0].tolerance: found 0, allowed a number above 0'],
  [['attributes'], [], 'attributes: found [], allowed at least 1 entry'],
  [['panel', 'assessors'], 2.5, 'panel.assessors: found 2.5, allowed a whole number'],
  [['panel'], undefined, 'panel: found nothing, allowed an object'],
  [
    ['drink', 'dosePerLitre'],
    { setting: 'sugar' },
    'drink.dosePerLitre.setting: found "sugar", allowed the id of a setting (dose)',
  ],
];

describe('a brief that is refused', () => {
  test.each(REFUSED)('%j = %j', (path, value, message) => {
    const faults = faultsOf(changed(pithBrief(), path, value));
    expect(faults.join('\n')).toContain(message);
  });

  test.each([
    [4, 0.03, 'nearest are 0.02 and 0.04', 'batch.grams 3.99'],
    [1, 0.7, 'nearest is 0.5', 'batch.grams 0.7'],
    [4, 5, 'nearest is 4', 'batch.grams 5'],
  ])('%d g by %d g: the nearest readability and batch are named', (grams, readability, near, batch) => {
    const [fault] = faultsOf(changed(pithBrief(), ['batch'], { grams, readability }));
    expect(fault).toContain(`found ${readability}`);
    expect(fault).toContain(near);
    expect(fault).toContain(batch);
  });

  test('lows above 1 and highs below 1 leave no region', () => {
    expect(faultsOf(changed(pithBrief(), ['components', 3, 'low'], 0.6)).length).toBe(0);
    const heavy = changed(changed(pithBrief(), ['components', 0, 'low'], 0.6), ['components', 3, 'low'], 0.5);
    expect(faultsOf(heavy)).toEqual([
      'components: found 1.12, allowed lows that sum to at most 1: no ratio meets all of them',
    ]);
    const light = changed(
      changed(pithBrief(), ['components', 0, 'high'], 0.1),
      ['components', 3, 'high'],
      0.2,
    );
    expect(faultsOf(light)[0]).toContain('found 0.85, allowed highs that sum to at least 1');
  });

  test('__proto__ in a bound is seen although objects hide it', () => {
    const bound = JSON.parse('{"of": {"__proto__": 1, "peel": 1}, "least": 0.1}') as unknown;
    expect(faultsOf(changed(pithBrief(), ['bounds', 0], bound))).toEqual([
      'bounds[0].of.__proto__: found "__proto__", allowed the id of a component',
    ]);
  });

  test.each([null, 3, 'brief', [], true])('%j is no brief', (value) => {
    expect(faultsOf(value).length).toBeGreaterThan(0);
  });

  test('more than twenty faults are counted', () => {
    const components = Array.from({ length: 12 }, () => ({ id: '', low: -1, high: 'x' }));
    const faults = faultsOf(changed(pithBrief(), ['components'], components));
    expect(faults).toHaveLength(21);
    expect(faults.at(-1)).toBe('and 16 more faults');
  });
});

describe('a brief that is accepted', () => {
  test('the example of every part, without a warning', () => {
    expect(accepted(pithBrief()).warnings).toEqual([]);
  });

  test('defaults: lows, highs, names, strength, acts, weight, tolerance of 8 % of the scale', () => {
    const { brief } = accepted({
      format: 'brief/1',
      components: [{ id: 'a' }, { id: 'b' }],
      settings: [{ id: 's', low: 1, high: 2 }],
      batch: { grams: 5, readability: 0.01 },
      attributes: [{ id: 'x', scale: [1, 9] }],
      panel: { assessors: 1, cupsPerSitting: 3 },
    });
    expect(brief.components[0]).toEqual({ id: 'a', name: 'a', low: 0, high: 1, strength: 100 });
    expect(brief.settings[0]).toMatchObject({ name: 's', acts: 'each' });
    expect(brief.panel.replicates).toBe(1);
    expect(toAttributes(brief)).toEqual([
      { id: 'x', scale: [1, 9], target: null, tolerance: 0.64, weight: 1 },
    ]);
    expect(toBlendSpace(brief).bounds).toEqual([]);
  });

  test('unknown fields are passed over with a warning that names their path', () => {
    const odd = changed(changed(pithBrief(), ['components', 1, 'colour'], 'green'), ['mood'], 1);
    const more = changed(odd, ['drink', 'dosePerLitre', 'unit'], 'mL');
    expect(accepted(more).warnings).toEqual([
      'components[1].colour: unknown field, passed over',
      'drink.dosePerLitre.unit: unknown field, passed over',
      'mood: unknown field, passed over',
    ]);
  });

  test('a bound without sides, a setting that stays and a stock named twice are warned about', () => {
    const odd = changed(pithBrief(), ['bounds', 0], { of: { peel: 1 } });
    const still = changed(odd, ['settings', 0], { id: 'dose', low: 0.2, high: 0.2 });
    const warnings = accepted(changed(still, ['components', 2, 'stocks'], [5, 5])).warnings.join('\n');
    expect(warnings).toContain('bounds[0]: has neither least nor most');
    expect(warnings).toContain('settings[0]: dose stays at 0.2');
    expect(warnings).toContain('components[2].stocks: a strength is named twice');
  });

  test('ids that spell inherited names are ids like others', () => {
    const brief = accepted({
      ...pithBrief(),
      components: [{ id: 'constructor', high: 0.7 }, { id: 'toString' }, { id: 'valueOf' }],
      bounds: [{ of: { valueOf: 1 }, most: 0.5 }],
      attributes: [{ id: 'hasOwnProperty', scale: [0, 10], target: 'reference' }],
    }).brief;
    expect(Object.entries(toBlendSpace(brief).bounds[0]!.of)).toEqual([
      ['constructor', 0],
      ['toString', 0],
      ['valueOf', 1],
    ]);
    expect(toAttributes(brief)[0]).toMatchObject({ id: 'hasOwnProperty', target: { kind: 'reference' } });
  });

  test.each([
    [0.1, 0.3],
    [0.01, 4],
    [0.0001, 123.4567],
    [2, 200_000],
  ])('a readability of %d g divides %d g', (readability, grams) => {
    expect(faultsOf(changed(pithBrief(), ['batch'], { grams, readability }))).toEqual([]);
  });
});

describe('how well the balance repeats', () => {
  const ten = Array.from({ length: 10 }, (_, i): number => (i % 2 === 0 ? 50.03 : 49.97));
  const withBatch = (batch: object) =>
    changed(pithBrief(), ['batch'], { grams: 4, readability: 0.01, tolerance: 0.02, ...batch });

  test('is worked out from ten weighings and stays what it is when the brief is judged again', () => {
    const { brief, warnings } = accepted(withBatch({ weighings: ten }));
    expect(brief.batch.repeatability).toBeCloseTo(0.03 * Math.sqrt(10 / 9), 12);
    expect(warnings).toEqual([]);
    expect(accepted(brief).brief).toEqual(brief);
  });

  test('is not asked for, and is never better than the step allows', () => {
    expect(accepted(withBatch({})).brief.batch.repeatability).toBeUndefined();
    const { brief, warnings } = accepted(withBatch({ repeatability: 0.001 }));
    expect(brief.batch.repeatability).toBeCloseTo(0.01 / Math.sqrt(6), 12);
    expect(warnings).toEqual([
      'batch.repeatability: a balance in steps of 0.01 g repeats no better than 0.00408 g',
    ]);
  });

  test('is refused where it contradicts the weighings, or these are fewer than ten', () => {
    expect(faultsOf(withBatch({ weighings: ten, repeatability: 0.01 }))).toEqual([
      'batch.repeatability: found 0.01, allowed 0.0316, which batch.weighings show, or nothing: it is worked out from them',
    ]);
    expect(faultsOf(withBatch({ weighings: ten.slice(1) }))[0]).toMatch(
      /^batch\.weighings: .*at least 10 entries/,
    );
    expect(faultsOf(withBatch({ weighings: ten.with(3, -1) }))[0]).toMatch(
      /^batch\.weighings\[3\]: found -1/,
    );
  });

  test('points at the weighing that was mistyped', () => {
    expect(accepted(withBatch({ weighings: ten.with(4, 5.003) })).warnings).toEqual([
      'batch.weighings[4]: 5.003 g lies far from the other weighings',
    ]);
  });
});
