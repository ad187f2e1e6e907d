import { describe, expect, test } from 'vitest';
import demo from '../../../trials/demo/brief.json' with { type: 'json' };
import { Brief } from '../../../trials/schema/brief.ts';
import { checkBrief } from '../../../trials/schema/check-brief.ts';
import { addedCautions, tasterCautions, untoldAllergens } from '../../../trials/schema/taster-cautions.ts';
import { shelfMaterials } from '../../../trials/shelf/shelf.ts';
import { smallBrief } from '../../support/small-trial.ts';

const materials = shelfMaterials().map(({ id, ...one }) => ({ material: id, ...one }));
const briefWith = (change: object): Brief => Brief.parse({ ...smallBrief(), ...change });
const drink = (name: string, percentVol: number) => ({
  drink: { name, cupMillilitres: 30, percentVol, dosePerLitre: { setting: 'dose' } },
});

describe('what tasters are told', () => {
  test('the brief’s own words, and no more where the drink says nothing', () => {
    expect(tasterCautions(smallBrief())).toEqual(['Holds citrus.']);
    const own = Brief.parse(demo).cautions.filter(({ to }) => to === 'taster');
    expect(tasterCautions(Brief.parse(demo))).toEqual(own.map(({ text }) => text));
  });

  test('quinine and caffeine by the drink’s name, alcohol by its strength, by hand', () => {
    // 30 mL of 5 % vol: 30 · 0.05 · 0.78924 g, four cups a sitting.
    expect(tasterCautions(briefWith(drink('tonic water', 5)))).toEqual([
      'Holds citrus.',
      'May hold quinine: not for who is pregnant or was told by a doctor to avoid it.',
      'Holds alcohol: about 1.2 g in a cup, 4.8 g in 4 cups. If you avoid alcohol altogether, do not taste.',
    ]);
    expect(tasterCautions(briefWith(drink('cola', 0)))).toEqual([
      'Holds citrus.',
      expect.stringContaining('caffeine'),
    ]);
  });

  test('alcohol of the concentrate at the highest dose, as the caps count it', () => {
    const brief = briefWith({
      concentrate: { carrier: 'ethanol-96', percentVol: 80, fillMillilitres: 25 },
      batch: { grams: 4, readability: 0.0001 },
    });
    // 0.4 mL of 80 % in a litre: 30 mL hold 30 · 0.00032 · 0.78924 g.
    expect(tasterCautions(brief).at(-1)).toMatch(
      /^Holds alcohol: at the most 0\.0076 g in a cup, 0\.031 g in 4 cups/,
    );
  });

  test('nothing twice', () => {
    const cautions = [{ to: 'taster', text: 'Quinine, and a little alcohol.' }];
    expect(tasterCautions(briefWith({ ...drink('tonic water', 5), cautions }))).toEqual([
      'Quinine, and a little alcohol.',
    ]);
  });

  test('is the same whatever the components are', () => {
    const brief = briefWith(drink('tonic water', 5));
    const others = {
      ...brief,
      components: brief.components.map((one) => ({ ...one, name: 'Coffee extract' })),
    };
    expect(tasterCautions(others)).toEqual(tasterCautions(brief));
  });
});

describe('cautions in the tasters’ own words', () => {
  const worded = (cautionWords: object, more: object = drink('tonic water', 5)) =>
    briefWith({ cautions: [], ...more, cautionWords });
  const german = {
    quinine: 'Kann Chinin enthalten: nicht für Schwangere.',
    alcohol: 'Enthält Alkohol: höchstens [cup] g je Glas, [all] g in [cups] Gläsern.',
  };

  test('stand in place of the English, with the same grams, in the same order', () => {
    expect(tasterCautions(worded(german))).toEqual([
      'Kann Chinin enthalten: nicht für Schwangere.',
      'Enthält Alkohol: höchstens 1.2 g je Glas, 4.8 g in 4 Gläsern.',
    ]);
    expect(addedCautions(worded(german)).map(({ english }) => english)).toEqual(tasterCautions(worded({})));
  });

  test('empty, of blanks or of signs that cannot be seen, leave the English', () => {
    const english = tasterCautions(worded({}));
    for (const nothing of ['', '   ', '\u200b\u200b\u200b\u200b\u200b', '· · ·'])
      expect(tasterCautions({ ...worded({}), cautionWords: { quinine: nothing, alcohol: nothing } })).toEqual(
        english,
      );
    const lost = { ...worded({}), cautionWords: { alcohol: 'Enthält Alkohol.' } };
    expect(tasterCautions(lost)).toEqual(english);
  });

  test('are refused where they say nothing or lose the grams', () => {
    const faultsOf = (cautionWords: object) => {
      const judged = checkBrief({ ...smallBrief(), cautionWords });
      return 'faults' in judged ? judged.faults.map(({ where }) => where) : [];
    };
    expect(faultsOf(german)).toEqual([]);
    expect(faultsOf({ quinine: '', caffeine: ' ', alcohol: '' })).toEqual([]);
    expect(faultsOf({ quinine: '...' })).toEqual(['cautionWords.quinine']);
    expect(faultsOf({ caffeine: 'x\u0007xxxx' })).toEqual(['cautionWords.caffeine']);
    expect(faultsOf({ alcohol: 'Enthält Alkohol, [cup] g je Glas.' })).toEqual(['cautionWords.alcohol']);
    expect(faultsOf({ quinine: 'x'.repeat(501) })).toEqual(['cautionWords.quinine']);
  });

  test('add none where the drink makes nothing plain, and take none away', () => {
    expect(tasterCautions(worded(german, drink('soda', 0)))).toEqual([]);
    expect(tasterCautions(worded({ caffeine: german.quinine }))).toHaveLength(2);
  });

  test('are the same whatever the components are', () => {
    const brief = worded(german);
    const others = { ...brief, components: brief.components.map((one) => ({ ...one, name: 'Coffee' })) };
    expect(tasterCautions(others)).toEqual(tasterCautions(brief));
  });
});

describe('what they are not told of the components', () => {
  const named = (name: string, cautions: object[] = []) => {
    const brief = briefWith({ cautions });
    return untoldAllergens(
      { ...brief, components: brief.components.map((one, i) => (i === 0 ? { ...one, name } : one)) },
      materials,
    );
  };

  test('is pointed at by what the shelf says, by name, other name or material', () => {
    expect(named('Pink pepper berry extract')).toEqual([
      { component: 'Pink pepper berry extract', says: expect.stringContaining('cashew') },
    ]);
    expect(named('Quassia extract')).toEqual([
      expect.objectContaining({ says: expect.stringContaining('pregnancy') }),
    ]);
  });

  test('is silent where a caution for tasters speaks of it, and loud where only the bench is told', () => {
    const says = (to: string) => [{ to, text: 'Whoever reacts to cashew or pistachio must not taste.' }];
    expect(named('Pink pepper berry extract', says('taster'))).toEqual([]);
    expect(named('Pink pepper berry extract', says('bench'))).toHaveLength(1);
  });

  test('is nothing where the shelf names no allergen, or does not know the material', () => {
    expect(named('Vanillin')).toEqual([]);
    expect(named('Moon dust')).toEqual([]);
    expect(untoldAllergens(Brief.parse(demo), materials)).toEqual([]);
  });
});
