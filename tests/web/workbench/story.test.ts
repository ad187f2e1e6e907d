import { describe, expect, it } from 'vitest';
import type { RoundView, StepName, TrialView } from '../../../trials/schema/api.ts';
import { priceOf } from '../../../web/workbench/pages/price.ts';
import { foundNames, searchTrials } from '../../../web/workbench/pages/trials.tsx';
import { readPlace } from '../../../web/workbench/routes.ts';
import { nowOf, storyOf } from '../../../web/workbench/story.ts';
import { withRound } from '../../../web/workbench/trial-store.ts';

const STEPS: StepName[] = ['plan', 'weigh', 'rest', 'dose', 'pour', 'taste', 'read'];

function round(number: number, at: number): RoundView {
  const steps = STEPS.map(
    (step, i) => ({ step, state: i < at ? 'done' : i === at ? 'now' : 'waiting', says: '' }) as const,
  );
  const state = at >= STEPS.length ? 'read' : 'open';
  return { round: number, state, steps: [...steps], mixes: [], sittings: [], reading: null, restHours: 24 };
}

function trial(...roundViews: RoundView[]): TrialView {
  return {
    trial: 't',
    name: 'T',
    demo: false,
    changed: '',
    rounds: roundViews.length,
    stands: '',
    briefVersion: 1,
    warnings: [],
    pouring: {},
    names: [],
    readings: [],
    roundViews,
    published: false,
    brief: {} as never,
  };
}

const labels = (view: TrialView, hash = '#/trials/t') =>
  storyOf(view, readPlace(hash)).map(({ label, state }) => `${label} ${state}`);

describe('the story', () => {
  it('begins with the brief and the plan', () => {
    expect(labels(trial())).toEqual(['Brief done', 'Plan the first mixes now']);
  });

  it('opens the round under way, with one thing to do now', () => {
    const marks = storyOf(trial(round(1, 7), round(2, 1)), readPlace('#/trials/t'));
    expect(marks.filter(({ state }) => state === 'now').map(({ label }) => label)).toEqual(['Weigh']);
    expect(marks.map(({ label }) => label)).toEqual([
      'Brief',
      'Round 1',
      'Round 2',
      'Plan',
      'Weigh',
      'Rest',
      'Dose',
      'Pour',
      'Taste',
      'Read',
      'Next mixes',
      'Proof',
      'Card',
    ]);
  });

  it('has exactly one thing to do now, wherever the maker looks', () => {
    for (const at of [0, 3, 6, 7])
      for (const hash of [
        '#/trials/t',
        '#/trials/t/rounds/1/weigh',
        '#/trials/t/next',
        '#/trials/t/rounds/2/read',
      ])
        expect(
          storyOf(trial(round(1, 7), round(2, at)), readPlace(hash)).filter(({ state }) => state === 'now'),
        ).toHaveLength(1);
  });

  it('leads from a proof to the card, and ends where that is published', () => {
    const proof = { ...round(2, 7), mixes: [{ mix: 'proof' }] } as unknown as RoundView;
    const proved = trial(round(1, 7), proof);
    expect(nowOf(proved).label).toBe('Card');
    expect(labels(proved).slice(-3)).toEqual(['Next mixes done', 'Proof done', 'Card now']);
    expect(labels({ ...proved, published: true }).slice(-3)).toEqual([
      'Next mixes done',
      'Proof done',
      'Card done',
    ]);
  });

  it('leads on to the next mixes once all is read', () => {
    expect(nowOf(trial(round(1, 7))).label).toBe('Next mixes');
  });

  it('leads on in the latest round, should an earlier one never have been read', () => {
    expect(nowOf(trial(round(1, 6), round(2, 3))).label).toBe('Dose');
  });

  it('marks where the maker is', () => {
    const marks = storyOf(trial(round(1, 7)), readPlace('#/trials/t/rounds/1/pour?sitting=s1'));
    expect(marks.filter(({ current }) => current).map(({ label }) => label)).toEqual(['Pour']);
  });
});

describe('a changed round', () => {
  it('takes the place of the old one, or its own', () => {
    const before = trial(round(1, 7), round(2, 1));
    expect(withRound(before, round(2, 2)).roundViews).toHaveLength(2);
    expect(withRound(before, round(3, 0)).rounds).toBe(3);
  });
});

describe('search', () => {
  const list = [
    {
      name: 'Pith & Pepper',
      stands: 'Round 1 is read',
      changed: '2026-01-01',
      names: ['Crème de noyaux', 'Bitter'],
    },
    {
      name: 'Cola',
      stands: 'Round 2 rests',
      changed: '2026-02-01',
      names: ['Lime oil', 'for the summer bar'],
    },
  ];

  it('finds every word in name or standing, latest change first', () => {
    expect(searchTrials(list, '').map(({ name }) => name)).toEqual(['Cola', 'Pith & Pepper']);
    expect(searchTrials(list, 'PEPPER read').map(({ name }) => name)).toEqual(['Pith & Pepper']);
    expect(searchTrials(list, 'gin')).toEqual([]);
  });

  it('finds components, questions and words of the brief, without minding accents, and says where', () => {
    const found = (search: string) => searchTrials(list, search).map(({ name }) => name);
    expect(found('creme noy')).toEqual(['Pith & Pepper']);
    expect(found('bitter')).toEqual(['Pith & Pepper']);
    expect(found('summer cola')).toEqual(['Cola']);
    expect(found('itter')).toEqual([]);
    expect(foundNames(list[0]!, 'pepper bitt')).toEqual(['Bitter']);
    expect(foundNames(list[1]!, 'cola')).toEqual([]);
  });
});

describe('the price of mixes', () => {
  const brief = {
    components: [
      { id: 'a', pricePerGram: 0.5 },
      { id: 'b', pricePerGram: 2 },
    ],
    panel: { assessors: 4, replicates: 2 },
  };

  it('counts a bottle once, and a mix poured again only in cups', () => {
    const mixes = [
      { mix: 'm1', grams: { a: 2, b: 1 } },
      { mix: 'm2', blend: 'm1', grams: { a: 2, b: 1 } },
      { mix: 'm0', again: true, grams: { a: 9, b: 9 } },
    ];
    expect(priceOf(brief as never, mixes)).toBe(
      '1 bottle, 3.0 g of material, 3.00 in the unit of the prices, 24 cups for 4 tasters.',
    );
  });

  it('says nothing of money where a price is missing', () => {
    const unknown = { ...brief, components: [{ id: 'a' }, { id: 'b', pricePerGram: 2 }] };
    expect(priceOf(unknown as never, [{ mix: 'm1', grams: { a: 2, b: 1 } }])).not.toContain('money');
  });
});
