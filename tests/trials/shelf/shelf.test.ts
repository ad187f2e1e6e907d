import { describe, expect, it } from 'vitest';
import { massFractionOf } from '../../../engine/bench/alcohol-density.ts';
import { isCasNumber } from '../../../trials/shelf/check-digit.ts';
import { legalLimits } from '../../../trials/shelf/legal-limits.ts';
import { findMaterial, shelfMaterials, volatilityOf } from '../../../trials/shelf/shelf.ts';
import { ShelfFile } from '../../../trials/shelf/shelf-schema.ts';

describe('CAS check digits', () => {
  // Water is the registry's own worked example: 8·1 + 1·2 + 2·3 + 3·4 + 7·5 + 7·6 = 105, which leaves 5.
  it.each(['7732-18-5', '64-17-5', '76-78-8', '5989-27-5', '58-08-2'])('takes %s', (number) => {
    expect(isCasNumber(number)).toBe(true);
  });
  it.each(['7732-18-4', '64-17-6', '76-87-8', '', '64175', '64-17-5 ', '0064-17-5', '64-175'])(
    'refuses "%s"',
    (number) => {
      expect(isCasNumber(number)).toBe(false);
    },
  );

  it('notices every single wrong digit and every swap of neighbours that differ', () => {
    const digits = '5989275';
    const written = (text: string) => `${text.slice(0, 4)}-${text.slice(4, 6)}-${text.slice(6)}`;
    for (let at = 0; at < 6; at++) {
      for (let other = 1; other <= 9; other++) {
        const wrong = (Number(digits[at]) + other) % 10;
        if (at === 0 && wrong === 0) continue;
        const place = 6 - at;
        // A digit that counts n times is noticed unless n times the change is a whole number of tens.
        const noticed = (place * (wrong - Number(digits[at]))) % 10 !== 0;
        expect(isCasNumber(written(digits.slice(0, at) + wrong + digits.slice(at + 1)))).toBe(!noticed);
      }
    }
  });
});

describe('the starter shelf', () => {
  it('refuses a wrong number, a field too many and a density out of this world', () => {
    const [first] = shelfMaterials();
    for (const change of [{ cas: '141-78-7' }, { colour: 'red' }, { density: 13.6 }, { id: 'Ethyl Acetate' }])
      expect(ShelfFile.safeParse({ note: '', materials: [{ ...first, ...change }] }).success).toBe(false);
    expect(ShelfFile.safeParse({ note: '', materials: [first] }).success).toBe(true);
  });

  it('names each material once, and what each is made of', () => {
    const ids = shelfMaterials().map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { makeup } of shelfMaterials())
      if (makeup.kind === 'solution')
        for (const part of [makeup.of, makeup.solvent]) expect(ids).toContain(part);
  });

  it.each([
    ['ethanol-96', 'ethanol-96'],
    ['Ethanol 96 % vol', 'ethanol-96'],
    ['  WATER ', 'water'],
    ['limonene', 'd-limonene'],
    ['Grapefruit peel oil, washed (terpene-reduced)', 'grapefruit-oil-washed'],
    ['Quassia wood extract, 2 % quassin by mass, in ethanol', 'quassia-extract'],
    ['grapefruit-oil', 'grapefruit-oil'],
  ])('finds "%s"', (name, id) => {
    expect(findMaterial(name)?.id).toBe(id);
  });
  it.each(['', 'constructor', '__proto__', 'grapefruit'])('does not find "%s"', (name) => {
    expect(findMaterial(name)).toBeUndefined();
  });

  it('says where each density, use level and constituent comes from, and claims nothing from memory as verified', () => {
    for (const { id, density, useLevel, makeup, sources, verifiedFields } of shelfMaterials()) {
      if (density !== null) expect(sources, id).toHaveProperty('density');
      if (useLevel.cloudy !== null) expect(useLevel.source, id).not.toBe('');
      if (makeup.kind === 'complex' && makeup.constituents.length > 0)
        expect(sources, id).toHaveProperty('constituents');
      for (const field of verifiedFields) expect(sources[field], `${id} ${field}`).not.toBe('from memory');
    }
  });

  it('tells use in clear drinks from use in cloudy ones: oils haze', () => {
    for (const { kind, useLevel } of shelfMaterials())
      if (kind === 'essential oil') expect(useLevel.clear![1]).toBeLessThan(useLevel.cloudy![1]);
  });

  it('holds spirit of 96 % at the mass share and density of the tables', () => {
    const spirit = findMaterial('ethanol-96')!;
    expect(spirit.makeup).toEqual({ kind: 'spirit', percentVol: 96 });
    expect(100 * massFractionOf(96)).toBeCloseTo(93.838, 3);
  });

  it('lets top notes go last and crystals early', () => {
    const of = (id: string) => volatilityOf(findMaterial(id)!);
    expect(['ethanol-96', 'vanillin', 'linalool', 'ethyl-butyrate', 'benzyl-acetate'].map(of)).toEqual([
      'carrier',
      'low',
      'middle',
      'high',
      'low',
    ]);
  });
});

describe('legal limits', () => {
  const find = (cas: string, jurisdiction: string) =>
    legalLimits().filter((limit) => limit.cas === cas && limit.jurisdiction === jurisdiction);

  it('holds those of Regulation (EC) 1334/2008 and 21 CFR with source and doubt', () => {
    expect(find('76-78-8', 'EU')).toMatchObject([
      {
        limit: 0.5,
        drinks: 'non-alcoholic',
        kind: 'maximum',
        verified: false,
        source: expect.stringContaining('1334/2008'),
      },
      { limit: 1.5, drinks: 'alcoholic', kind: 'maximum', verified: false },
    ]);
    expect(find('140-67-0', 'EU')).toMatchObject([{ limit: 10, drinks: 'non-alcoholic' }, { kind: 'told' }]);
    expect(find('130-95-0', 'US')).toMatchObject([
      { limit: 83, only: 'carbonated drinks', verified: true, source: '21 CFR 172.575' },
    ]);
    expect(find('57-55-6', 'EU')).toMatchObject([{ limit: 1000, unit: 'mg/L', drinks: 'any' }]);
    expect(find('64-17-5', 'EU')).toMatchObject([{ limit: 1.2, unit: '% vol', kind: 'declared' }]);
    expect(find('91-64-5', 'US')).toMatchObject([{ kind: 'banned' }]);
  });

  it('leaves repealed rows out', () => {
    expect(legalLimits().some(({ jurisdiction }) => jurisdiction.includes('REPEALED'))).toBe(false);
    expect(find('76-78-8', 'EU').some(({ limit }) => limit === 5)).toBe(false);
  });

  it('gives every row to judge a figure, a source and a place', () => {
    for (const { limit, kind, source, jurisdiction } of legalLimits()) {
      expect(source).not.toBe('');
      expect(jurisdiction).not.toBe('');
      if (kind !== 'told') expect(limit).not.toBeNull();
    }
  });
});
