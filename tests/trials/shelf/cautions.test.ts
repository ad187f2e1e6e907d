import { describe, expect, it } from 'vitest';
import { type Caution, cautionsOf } from '../../../trials/shelf/cautions.ts';

type Input = Parameters<typeof cautionsOf>[0];

/** Cautions for lines by name, with so many mg/kg of each in the drink. */
function about(
  kind: Caution['about'],
  held: Readonly<Record<string, number>>,
  percentVol: number | null = 80,
) {
  const substances = Object.entries(held).map(([substance, mgPerKg]) => ({
    substance,
    cas: null,
    mgPerKg,
    within: [],
    limits: [],
  }));
  const input: Input = {
    lines: Object.keys(held).map((name) => ({ name })),
    strength: { percentVol, substances: [] },
    drink: { millilitres: 150, density: 1, percentVol: 0, substances },
  };
  return cautionsOf(input).filter((one) => one.about === kind);
}

describe('cautions', () => {
  it('name pink pepper in words, which stands on no list of allergens', () => {
    const [found, ...more] = about('allergen', { 'pink-pepper-extract': 1, 'ethyl-butyrate': 1, water: 1 });
    expect(more).toEqual([]);
    expect(found).toMatchObject({
      text: expect.stringContaining('cashew'),
      source: expect.stringContaining('e25'),
    });
  });

  it('tell of grapefruit and medicines, and of quassia in pregnancy', () => {
    const found = about('allergen', { 'grapefruit-oil-washed': 1, 'Quassia extract': 1 });
    expect(found.map(({ text }) => text).join()).toMatch(/medicines.*pregnancy/s);
  });

  it.each([
    [96, 'category 2'],
    [60, 'category 2'],
    [50, 'category 3'],
    [10, 'category 3'],
    [null, 'not known'],
  ])('class a concentrate of %s %% by volume by its flash point', (percentVol, kind) => {
    expect(about('fire', {}, percentVol)).toMatchObject([{ text: expect.stringContaining(kind) }]);
  });
  it('leave water alone', () => {
    expect(about('fire', {}, 5)).toEqual([]);
  });

  it('warn of haze from 10 mg/kg of oils together, a rule of thumb, and of nothing else', () => {
    const oils = { 'Lemon oil, cold-pressed': 6, 'Sweet orange oil, cold-pressed': 5 };
    expect(about('haze', oils)).toMatchObject([
      { text: expect.stringContaining('11 mg/kg'), source: expect.stringContaining('rule of thumb') },
    ]);
    expect(about('haze', { 'Lemon oil, cold-pressed': 6, Vanillin: 50 })).toEqual([]);
  });

  it('say what ages, and how, with a source', () => {
    const found = about('ageing', {
      citral: 1,
      'ethyl-butyrate': 1,
      'isoamyl-acetate': 1,
      vanillin: 1,
      nootkatone: 1,
    });
    expect(found).toMatchObject([
      { text: expect.stringMatching(/^Citral, Vanillin: forms acetals/) },
      { text: expect.stringMatching(/^Ethyl butyrate, Isoamyl acetate: exchanges/) },
    ]);
    for (const { source } of found) expect(source).not.toBe('');
  });
});
