import { describe, expect, it } from 'vitest';
import { groupsAmong, pickedMixes } from '../../../web/workbench/reading/pick-mixes.ts';
import type { ReadingView } from '../../../web/workbench/reading/reading-view.ts';

const ranked = [...Array.from({ length: 40 }, (_, i) => `m${i + 1}`), 'reference'];
const rounds = [1, 2].map((round) => ({ round, mixes: [{ mix: `m${round}` }, { mix: `m${20 + round}` }] }));
const view = { trial: { roundViews: rounds } } as unknown as ReadingView;

describe('of many mixes', () => {
  it('the nearest are shown, the reference with them', () => {
    expect(pickedMixes(view, ranked, 'nearest')).toEqual([...ranked.slice(0, 12), 'reference']);
  });

  it('those of a round are shown, or all', () => {
    expect(pickedMixes(view, ranked, '2')).toEqual(['m2', 'm22', 'reference']);
    expect(pickedMixes(view, ranked, 'all')).toEqual(ranked);
  });

  it('brackets join only what is shown, and none lies within another', () => {
    const groups = [
      ['m1', 'm2', 'm3'],
      ['m2', 'm3', 'm4'],
      ['m4', 'm5'],
    ];
    expect(groupsAmong(groups, new Set(['m2', 'm3', 'm5']))).toEqual([['m2', 'm3']]);
    expect(groupsAmong(groups, new Set(['m1', 'm2', 'm4']))).toEqual([
      ['m1', 'm2'],
      ['m2', 'm4'],
    ]);
  });
});
