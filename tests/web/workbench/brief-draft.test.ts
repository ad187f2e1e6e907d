import { describe, expect, it } from 'vitest';
import demo from '../../../trials/demo/brief.json' with { type: 'json' };
import { withRepeatability } from '../../../trials/schema/balance-rule.ts';
import { Brief } from '../../../trials/schema/brief.ts';
import { checkBrief } from '../../../trials/schema/check-brief.ts';
import { money, moneyHead } from '../../../trials/schema/money.ts';
import { draftOf, emptyDraft, jsonOf } from '../../../web/workbench/brief/draft.ts';
import { withAdded, withGroup, withRemoved, withRow } from '../../../web/workbench/brief/draft-changes.ts';
import { placeWords, worthTelling } from '../../../web/workbench/brief/fault-words.ts';
import { faultsByPath } from '../../../web/workbench/brief/faults-by-path.ts';
import { capsGist } from '../../../web/workbench/brief/gist.ts';
import { changed, historyOf, redone, undone } from '../../../web/workbench/brief/history.ts';
import { hundredsOf, shareOf } from '../../../web/workbench/brief/hundreds.ts';
import { idFrom, idsOf } from '../../../web/workbench/brief/ids.ts';
import { leastKnown, repeatsWithin, typedTrial, withWeighing } from '../../../web/workbench/brief/repeats.ts';

const brief = Brief.parse(demo);
const full = Brief.parse({
  ...demo,
  components: demo.components.map((component, i) =>
    i === 0 ? { ...component, stocks: [5, 0.5], material: 'grapefruit-oil' } : component,
  ),
  attributes: [
    { id: 'a', name: 'A', scale: [1, 9], target: 'most', weight: 2 },
    { id: 'b', name: 'B', scale: [0, 10], target: 4.5 },
    { id: 'c', name: 'C', scale: [0, 10] },
    { id: 'd', name: 'D', scale: [1, 3], form: 'categories', words: ['none', 'some', 'much'] },
  ],
  asides: [{ id: 'best', name: 'Which you would order', form: 'ranking', words: ['least', 'most'] }],
  panel: { assessors: 4, cupsPerSitting: 4, replicates: 1, lingers: true },
  bounds: [{ of: { peel: 1, noot: -0.5 }, least: 0.1, most: 0.4 }],
  batch: { grams: 5, readability: 0.001, tolerance: 0.02 },
  drink: { name: 'soda', cupMillilitres: 30, dosePerLitre: 0.2 },
  caps: { costPerLitre: 0.5 },
  tags: ['soda', 'for the summer bar'],
  currency: '£',
});

describe('a brief as it is typed', () => {
  it('goes into the form and comes out as it was', () => {
    for (const one of [brief, full]) {
      const checked = checkBrief(JSON.parse(JSON.stringify(jsonOf(draftOf(one)))));
      expect(checked).toMatchObject({ brief: one });
    }
  });

  it('keeps ten weighings as typed, and works the repeatability out anew', () => {
    const ten = [20.01, 20, 20.02, 19.99, 20, 20.01, 20, 19.98, 20.01, 20];
    const batch = withRepeatability({ ...full.batch, readability: 0.01, weighings: ten });
    const draft = draftOf({ ...full, batch });
    expect(draft.batch).toMatchObject({ repeatability: '', weighings: ten.map(String) });
    expect(checkBrief(JSON.parse(JSON.stringify(jsonOf(draft))))).toMatchObject({ brief: { batch } });
    expect(repeatsWithin(draft.batch)).toBe(batch.repeatability);
    // 0.0115 g over 2 parts of a hundred.
    expect(leastKnown(draft.batch)).toEqual({ grams: batch.repeatability! / 0.02, within: 2, usual: false });
  });

  it('spreads a pasted row of weighings over the places, and forgets them when they are cleared', () => {
    const batch = withWeighing(emptyDraft().batch, 2, '5.01 5,02; 5.03');
    expect(batch.weighings).toEqual(['', '', '5.01', '5,02', '5.03', '', '', '', '', '']);
    expect(typedTrial(batch)).toBeNull();
    const cleared = [2, 3, 4].reduce((one, place) => withWeighing(one, place, ''), batch);
    expect(cleared.weighings).toEqual([]);
    expect(leastKnown(cleared)).toEqual({ grams: 0.01 / Math.sqrt(6) / 0.01, within: 1, usual: true });
  });

  it('keeps what is no number, so that the check names its field', () => {
    const draft = withRow(draftOf(brief), 'components', 2, { high: 'a fifth' });
    const checked = checkBrief(JSON.parse(JSON.stringify(jsonOf(draft))));
    expect('faults' in checked && checked.faults.map(({ where }) => where)).toEqual(['components[2].high']);
  });

  it('reads decimal commas', () => {
    const draft = withRow(draftOf(brief), 'components', 0, { low: '25,5' });
    expect(jsonOf(draft)).toMatchObject({ components: [{ low: 0.255 }, {}, {}, {}, {}] });
  });

  it('leaves out what may be absent and asks for what may not', () => {
    const checked = checkBrief(JSON.parse(JSON.stringify(jsonOf(emptyDraft()))));
    expect('faults' in checked && checked.faults.map(({ where }) => where)).toEqual(
      expect.arrayContaining([
        'components[0].id',
        'components[1].id',
        'attributes[0].id',
        'attributes[0].target',
      ]),
    );
    expect(jsonOf(emptyDraft())).not.toHaveProperty('concentrate');
    expect(jsonOf(emptyDraft())).not.toHaveProperty('drink');
    expect(jsonOf(emptyDraft())).not.toHaveProperty('caps');
  });

  it('makes short names out of long ones', () => {
    expect(['Grapefruit peel oil', 'Crème de cassis', '  2-Nonanone', '漢字', ''].map(idFrom)).toEqual([
      'grapefruit',
      'creme',
      'nonanone',
      '',
      '',
    ]);
  });
});

describe('shares', () => {
  it('are typed in parts of a hundred, to the last digit', () => {
    for (const share of [0.07, 0.29, 0.57, 1 / 3, 1, 0, 1e-7]) expect(shareOf(hundredsOf(share))).toBe(share);
    expect([hundredsOf(0.07), hundredsOf(0.29), hundredsOf(undefined)]).toEqual(['7', '29', '']);
    expect([shareOf('7'), shareOf('a fifth'), shareOf(' ')]).toEqual([0.07, 'a fifth', undefined]);
  });
});

describe('short names that nobody typed', () => {
  const typed = (components: string[], attributes: string[]) => ({
    ...emptyDraft(),
    components: components.map((name) => ({ ...emptyDraft().components[0]!, name })),
    attributes: attributes.map((name) => ({ ...emptyDraft().attributes[0]!, name })),
  });

  it('are each their own, and no column of the files', () => {
    expect(idsOf(typed(['Lime oil', 'Lime zest', 'Mix of herbs', ''], ['Lime', 'Position']))).toEqual({
      components: ['lime', 'lime-2', 'mix-2', ''],
      settings: [],
      attributes: ['lime-3', 'position-2'],
    });
  });

  it('go into limits, and go along when the name changes', () => {
    const draft = withAdded(typed(['Lime oil', 'Cedar'], ['Sharp']), 'bounds');
    const bounded = withRow(draft, 'bounds', 0, {
      terms: [{ coefficient: '1', component: 'lime' }],
      most: '40',
    });
    const renamed = withRow(bounded, 'components', 0, { name: 'Key lime oil' });
    expect(jsonOf(renamed)).toMatchObject({ bounds: [{ of: { key: 1 }, most: 0.4 }] });
  });
});

describe('changes to a brief', () => {
  const draft = draftOf(brief);

  it('leave what they are given as it was', () => {
    const before = JSON.stringify(draft);
    withRow(draft, 'attributes', 1, { name: 'x' });
    withGroup(draft, 'batch', { grams: '9' });
    withRemoved(draft, 'bounds', 0);
    withAdded(draft, 'cautions');
    expect(JSON.stringify(draft)).toBe(before);
  });

  it('take a component along into the limits when its short name changes', () => {
    const next = withRow(draft, 'components', 0, { id: 'rind' });
    expect(next.bounds[0]!.terms.map(({ component }) => component)).toEqual(['rind', 'pink']);
  });

  it('add and take away rows', () => {
    const more = withAdded(draft, 'components');
    expect(more.components).toHaveLength(6);
    expect(withRemoved(more, 'components', 0).components[0]!.id).toBe('noot');
  });
});

describe('undo', () => {
  it('takes typing in one field back as one change, and brings it again', () => {
    let history = historyOf('');
    for (const text of ['p', 'pe', 'pee', 'peel']) history = changed(history, text, 'name');
    history = changed(history, 'peel 5', 'other');
    expect(undone(history).now).toBe('peel');
    expect(undone(undone(history)).now).toBe('');
    expect(undone(undone(undone(history))).now).toBe('');
    expect(redone(redone(undone(undone(history)))).now).toBe('peel 5');
  });

  it('forgets what was taken back once something else is changed', () => {
    const history = changed(undone(changed(historyOf(1), 2, '')), 3, '');
    expect(redone(history).now).toBe(3);
    expect(undone(history).now).toBe(1);
  });

  it('does not grow without end', () => {
    let history = historyOf(0);
    for (let i = 1; i <= 500; i++) history = changed(history, i, '');
    expect(history.past).toHaveLength(200);
  });
});

describe('faults beside fields', () => {
  it('say what was found and what is allowed, and the first of several', () => {
    const at = faultsByPath([
      { where: 'panel.assessors', found: '0', allowed: 'a number of at least 1', message: 'long' },
      { where: 'panel.assessors', found: '0', allowed: 'something else', message: 'long' },
      { where: 'components[0].id', found: 'nothing', allowed: 'text', message: 'long' },
      { where: '', message: 'and 3 more faults' },
    ]);
    expect(at('panel.assessors')).toBe('0 is not a number of at least 1');
    expect(at('components[0].id')).toBe('needs text');
    expect(at('')).toBe('and 3 more faults');
    expect(at('name')).toBeUndefined();
  });

  it('speak the words of the form: its chapters, parts of a hundred, and no short name that a name would bring', () => {
    const draft = withRow(emptyDraft(), 'components', 1, { name: 'Lime', low: '120' });
    const checked = checkBrief(JSON.parse(JSON.stringify(jsonOf(draft))));
    const faults = 'faults' in checked ? worthTelling(checked.faults) : [];
    const at = faultsByPath(faults);
    expect(faults.map(({ where }) => `${placeWords(where)}: ${at(where)}`)).toEqual([
      'What is blended, 1: name: give it a name',
      'What is blended, 2: at least: 120 is not a number from 0 to 100',
      'What it must taste like, 1: name: give it a name',
      'What it must taste like, 1: score: say which score, or choose another aim',
    ]);
  });
});

describe('money', () => {
  it('says what it is in, or that nobody named it', () => {
    expect(money(12.3, 'EUR')).toBe('12.30 EUR');
    expect(money(12.3, undefined)).toBe('12.30 in the unit of the prices');
    expect(money(1250000.5, 'IDR')).toBe('1\u202f250\u202f000.50 IDR');
    expect(money(0.00031, 'EUR')).toBe('0.00031 EUR');
    expect([moneyHead('EUR'), moneyHead(undefined, 'cost')]).toEqual(['money, EUR', 'cost, as priced']);
    expect(capsGist({ ...draftOf(full), currency: '£' })).toBe('0.5 £ a litre');
  });
});
