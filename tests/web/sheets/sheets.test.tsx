// @vitest-environment happy-dom
import { cleanup, render, screen, within } from '@testing-library/preact';
import { afterEach, describe, expect, it } from 'vitest';
import type { PouringSheet as Pouring } from '../../../trials/schema/api.ts';
import { Brief } from '../../../trials/schema/brief.ts';
import type { Card } from '../../../trials/schema/card.ts';
import { BallotSheets } from '../../../web/sheets/ballot-sheet.tsx';
import { BottleLabels } from '../../../web/sheets/bottle-labels.tsx';
import { differencesOf } from '../../../web/sheets/card-differences.ts';
import { CardSheet } from '../../../web/sheets/card-sheet.tsx';
import { CupLabels } from '../../../web/sheets/cup-labels.tsx';
import { dosingRows } from '../../../web/sheets/dosing-rows.ts';
import { KeySheet } from '../../../web/sheets/key-sheet.tsx';
import { PouringSheet } from '../../../web/sheets/pouring-sheet.tsx';
import { WeighingSheet } from '../../../web/sheets/weighing-sheet.tsx';

const brief = Brief.parse({
  format: 'brief/1',
  name: 'Pith',
  components: [
    { id: 'peel', name: 'Secret peel' },
    { id: 'wood', name: 'Secret wood' },
  ],
  settings: [{ id: 'dose', name: 'Dose', unit: 'mL/L', low: 0.17, high: 0.33 }],
  batch: { grams: 4, readability: 0.01 },
  attributes: [
    { id: 'bitter', name: 'Bitter', scale: [0, 100] },
    { id: 'fresh', name: 'Fresh', scale: [0, 100] },
    { id: 'liking', name: 'Liking', scale: [1, 9] },
  ],
  panel: { assessors: 2, cupsPerSitting: 3 },
  concentrate: { carrier: 'ethanol-96', percentVol: 88, fillMillilitres: 25 },
  drink: { name: 'soda', cupMillilitres: 40, dosePerLitre: { setting: 'dose' } },
  cautions: [
    { to: 'taster', text: 'Kin to cashew.' },
    { to: 'bench', text: 'No flame.' },
    { to: 'label', text: 'Holds pink pepper.' },
  ],
});

const pouring: Pouring = {
  trial: 't',
  sitting: 's1',
  label: 'Tuesday',
  cupMillilitres: 40,
  cautions: ['Kin to cashew.'],
  hidden: [],
  trays: [
    {
      assessor: 'P1',
      cups: [
        { position: 1, code: '111', mix: 'warmup', part: 1 },
        { position: 2, code: '222', mix: 'mix-one', part: 2 },
        { position: 3, code: '333', mix: 'reference', part: 3 },
      ],
    },
    {
      assessor: 'P2',
      cups: [
        { position: 1, code: '444', mix: 'reference', part: 1 },
        { position: 2, code: '555', mix: 'mix-one', part: 2 },
      ],
    },
  ],
  questions: [
    { id: 'bitter', name: 'Bitter', scale: [0, 100], form: 'line', words: [] },
    { id: 'fresh', name: 'Fresh', scale: [0, 100], form: 'line', words: [] },
    { id: 'liking', name: 'Liking', scale: [1, 9], form: 'points', words: [] },
  ],
  doses: { 'mix-one': 0.25 },
};

const text = () => document.body.textContent ?? '';
const regions = () => screen.getAllByRole('region');

afterEach(cleanup);

describe('what tasters hold', () => {
  it('a ballot each, with codes and questions and never a mix, a component or a ratio', () => {
    render(<BallotSheets brief={brief} pouring={pouring} />);
    expect(screen.getAllByRole('heading', { level: 1 }).map((one) => one.textContent)).toEqual([
      'Ballot of P1',
      'Ballot of P2',
    ]);
    for (const secret of ['mix-one', 'reference', 'warmup', 'Secret', 'Pith'])
      expect(text()).not.toContain(secret);
    const first = within(screen.getByRole('region', { name: 'Ballot of P1' }));
    expect(first.getAllByRole('heading', { level: 2 }).map((one) => one.textContent)).toEqual([
      'Read this first',
      'Cup 111 for practice, not counted',
      'Cup 222',
      'Cup 333',
    ]);
    expect(first.getByText('Kin to cashew.')).toBeDefined();
    expect(first.queryByText('No flame.')).toBeNull();
  });

  it('a line for scores from 0 to 100, points for whole numbers, begun further on for the second taster', () => {
    const { container } = render(<BallotSheets brief={brief} pouring={pouring} />);
    const [first, second] = container.querySelectorAll('.paper');
    const asked = (ballot: Element) => [...ballot.querySelectorAll('.asked')].map((one) => one.textContent);
    expect(asked(first!).slice(0, 3)).toEqual(['Bitter', 'Fresh', 'Liking']);
    expect(asked(second!).slice(0, 3)).toEqual(['Fresh', 'Liking', 'Bitter']);
    expect(first!.querySelectorAll('.mark-line')).toHaveLength(3 * 2);
    const points = [...first!.querySelectorAll('.points')[0]!.children].map((one) => one.textContent);
    expect(points).toEqual(['1', '2', '3', '4', '5', '6', '7', '8', '9']);
  });

  it('a label a cup without its mix', () => {
    const { container } = render(<CupLabels pouring={pouring} />);
    expect(container.querySelectorAll('.label')).toHaveLength(5);
    expect(text()).toContain('333');
    for (const secret of ['mix-one', 'reference', 'warmup']) expect(text()).not.toContain(secret);
  });
});

describe('what whoever pours holds', () => {
  it('a square a cup, row by row, and a jug for each mix', () => {
    const { container } = render(<PouringSheet brief={brief} pouring={pouring} />);
    const rows = [...container.querySelectorAll('.grid tbody tr')].map((row) =>
      [...row.children].map((cell) => cell.textContent),
    );
    expect(rows).toEqual([
      ['P1', '111warmup', '222mix-one', '333reference'],
      ['P2', '444reference', '555mix-one', ''],
    ]);
    const jug = screen.getByRole('row', { name: /^mix-one 2 88 0.25/ });
    expect(within(jug).getByText('its tenfold dilution')).toBeDefined();
    // 0.022 mL of concentrate, 0.18 g of its dilution: known to 2.3 %; the drink to make is said.
    expect(text()).toMatch(/larger jug: mix-one from \d+ mL/);
  });

  it('for a sitting held alone: which drinks go under the cups, never under which number', () => {
    const trays = pouring.trays.map((tray) => ({
      ...tray,
      cups: tray.cups.map((cup) => ({ ...cup, mix: cup.mix === 'warmup' ? 'warmup' : '' })),
    }));
    const alone = { ...pouring, trays, hidden: ['m1', 'm2'] };
    const { container } = render(<PouringSheet brief={brief} pouring={alone} />);
    expect(container.querySelector('.grid')!.textContent).not.toMatch(/m1|m2/);
    expect(container.textContent).toContain('without looking');
    const rows = dosingRows(brief, alone).filter(({ mix }) => mix !== 'warmup');
    expect(rows.map(({ mix, cups }) => [mix, cups])).toEqual([
      ['m1', trays.length],
      ['m2', trays.length],
    ]);
    const key = render(<KeySheet brief={brief} pouring={alone} />);
    expect(key.container.textContent).toContain('read the name under it');
    expect(key.container.textContent).not.toMatch(/m1|m2/);
  });

  it('the key alone on its page', () => {
    render(<KeySheet brief={brief} pouring={pouring} />);
    expect(regions().map((one) => one.getAttribute('aria-label'))).toEqual(['Key']);
    expect(screen.getByRole('row', { name: '222 mix-one' })).toBeDefined();
    expect(screen.getByRole('row', { name: '444 reference' })).toBeDefined();
  });

  it('counts cups a mix, and doses only what has a dose', () => {
    const rows = dosingRows(brief, pouring);
    expect(rows.map(({ mix, cups, dose }) => [mix, cups, dose === null])).toEqual([
      ['warmup', 1, true],
      ['mix-one', 2, false],
      ['reference', 2, true],
    ]);
  });

  it('sends every jug of a sitting the same way: all through the dilution or none', () => {
    const at = (readability: number) => {
      const fine = { ...brief, batch: { ...brief.batch, readability } };
      const doses = { 'mix-one': 0.33, reference: 0.002 };
      return dosingRows(fine, { ...pouring, doses }).map(({ dose }) => dose?.fold);
    };
    // A balance of 0.1 mg knows the 24 mg of one jug to 0.2 %, and the 0.15 mg of the other not at all.
    expect(at(0.0001)).toEqual([undefined, 10, 10]);
    expect(at(0.000001)).toEqual([undefined, 1, 1]);
  });

  it('says nothing of doses where the brief has no drink or the balance shows nothing', () => {
    const { drink: _, ...dry } = brief;
    expect(dosingRows(dry, pouring).every(({ dose }) => dose === null)).toBe(true);
    const coarse = { ...brief, batch: { ...brief.batch, readability: 5 } };
    expect(dosingRows(coarse, pouring).every(({ dose }) => dose === null)).toBe(true);
  });
});

describe('what the bench holds', () => {
  const bottles = [
    {
      blend: 'b1',
      mixes: ['m1', 'm4'],
      lines: [
        { id: 'peel', name: 'Secret peel', planned: 0.1 },
        { id: 'wood', name: 'Secret wood', planned: 0.2 },
      ],
    },
  ];

  it('a weighing sheet with target, growing total and room for what was weighed', () => {
    const { container } = render(<WeighingSheet brief={brief} of="round 1" bottles={bottles} />);
    const rows = [...container.querySelectorAll('tbody tr')].map((row) =>
      [...row.children].map((cell) => cell.textContent),
    );
    expect(rows).toEqual([
      ['Secret peel', '0.10', '0.10', '', ''],
      ['Secret wood', '0.20', '0.30', '', ''],
    ]);
    expect(screen.getByText('No flame.')).toBeDefined();
    expect(screen.getByRole('heading', { name: 'Bottle b1 serves m1, m4' })).toBeDefined();
  });

  it('a label a bottle that warns of tasting it', () => {
    render(<BottleLabels brief={brief} of="round 1" bottles={bottles} />);
    expect(text()).toContain('Never tasted as it is; about 88 % alcohol by volume, highly flammable.');
  });

  describe('a card', () => {
    const names = {
      components: brief.components,
      settings: [{ id: 'dose', name: 'Dose', unit: 'mL/L' }],
      attributes: brief.attributes,
    };
    const limit = {
      ...{ limit: 0.5, unit: 'mg/kg' as const, kind: 'maximum' as const, drinks: 'any' as const, only: null },
      ...{ jurisdiction: 'EU', source: 'a law', verified: false, note: '', exceeded: true },
    };
    const card: Card = {
      ...{ version: 2, at: '2026-03-10T12:00:00.000Z', name: 'Pith', note: 'For the bar.' },
      formula: { format: 'formula/1', name: 'Pith', lines: [{ material: 'peel', grams: 1, strength: 100 }] },
      ratios: { peel: 0.25, wood: 0.75 },
      grams: { peel: 1, wood: 3 },
      settings: { dose: 0.25 },
      predicted: { bitter: { mean: 61.5, interval: [55, 68] } },
      ...{ chance: 0.784, distance: 3, sizes: [4, 40] },
      concentrate: {
        ...{ carrier: 'ethanol-96', fillMillilitres: 25, grams: 20.6, density: 0.824 },
        ...{ percentVol: 88.2, because: '' },
      },
      drink: { name: 'soda', dosePerLitre: 0.25, percentVol: 0.022, density: 1, cupMillilitres: 40 },
      cost: { perBatch: 1.47, perLitreOfDrink: 0.0147, because: 'components alone' },
      substances: [{ substance: 'Quassin', mgPerKg: 0.8, limits: [limit] }],
      unchecked: [{ material: 'Secret wood', because: 'unknown constituents' }],
      cautions: [{ about: 'label', text: 'Holds pink pepper.', source: 'the brief' }],
      evidence: { rounds: 1, sittings: 4, tasters: 6, answers: 564, proofs: [] },
      ageing: [{ weeks: 4, due: '2026-04-07' }],
      warnings: [],
    };

    it('has shares, batches, dose, scores, limits, cautions, evidence and its version', () => {
      const before = { ...card, version: 1, ratios: { peel: 0.3, wood: 0.7 } };
      render(<CardSheet card={card} before={before} places={2} names={names} qr="<svg/>" />);
      expect(screen.getByRole('row', { name: 'Secret peel 25.00 1.00 10.00' })).toBeDefined();
      expect(screen.getByRole('row', { name: 'Bitter, 0 to 100 61.5 (55.0 to 68.0)' })).toBeDefined();
      expect(screen.getByRole('row', { name: 'a cup of 40 mL 0.01 mL, 0.00824 g' })).toBeDefined();
      expect(screen.getByRole('img', { name: 'Code that opens this card' })).toBeDefined();
      for (const part of [
        'version 2, 2026-03-10',
        'For the bar.',
        '88.2 % alcohol by volume',
        '1.47 in the unit of the prices a batch',
        'Exceeded: Quassin 0.8 mg/kg (maximum 0.5 mg/kg, EU, not verified)',
        'Not checked: Secret wood (unknown constituents)',
        'Holds pink pepper.',
        '1 round, 4 sittings, 6 tasters, 564 answers',
        '78 in 100',
        'not proved blind',
        'Against version 1: Secret peel 30.00 → 25.00; Secret wood 70.00 → 75.00.',
        'after 4 weeks (2026-04-07)',
        'No legal verdict',
      ])
        expect(text()).toContain(part);
    });

    it('tells an own limit from one of the law, with the drinks it is for, and sends to the law', () => {
      const own = {
        ...limit,
        own: true as const,
        jurisdiction: 'customer',
        only: 'bitters',
        exceeded: false,
      };
      const ours = { ...own, jurisdiction: 'own', only: null };
      const substances = [{ substance: 'Quassin', mgPerKg: 0.8, limits: [limit, own, ours] }];
      render(<CardSheet card={{ ...card, substances }} before={null} places={2} names={names} qr="<svg/>" />);
      for (const part of [
        'Exceeded: Quassin 0.8 mg/kg (maximum 0.5 mg/kg, EU, not verified)',
        'Kept: Quassin 0.8 mg/kg (maximum 0.5 mg/kg, customer, own figure, bitters); ' +
          'Quassin 0.8 mg/kg (maximum 0.5 mg/kg, own figure).',
        'Own figures are the maker’s: check the law where you sell.',
      ])
        expect(text()).toContain(part);
    });

    it('says what is not known instead of a figure, and that a draft is one', () => {
      const unknown: Card = {
        ...card,
        concentrate: {
          ...card.concentrate,
          density: null,
          percentVol: null,
          because: 'a density is missing',
        },
        cost: { perBatch: null, perLitreOfDrink: null, because: 'no price per gram: peel' },
      };
      render(<CardSheet card={unknown} before={null} places={2} names={names} qr={null} />);
      for (const part of ['a draft', 'a density is missing', 'no price per gram: peel'])
        expect(text()).toContain(part);
      expect(text()).not.toMatch(/null|NaN|undefined/);
    });

    it('is compared with another version by what both print', () => {
      expect(differencesOf(card, card, names)).toEqual([]);
      const next = {
        ...card,
        chance: 0.9,
        predicted: { bitter: { ...card.predicted['bitter']!, mean: 60 } },
      };
      expect(differencesOf(card, next, names)).toEqual([
        { what: 'Bitter', was: '61.5', is: '60' },
        { what: 'chance of a match, in 100', was: '78', is: '90' },
      ]);
    });
  });
});
