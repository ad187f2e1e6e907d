import { describe, expect, it } from 'vitest';
import { demoBrief } from '../../../trials/demo/demo-round-one.ts';
import { faultsOf, triedInWords, triedOf } from '../../../web/workbench/pages/what-if.tsx';

const brief = demoBrief();

describe('what is tried out', () => {
  it('is asked for only where something was typed, limits as shares', () => {
    expect(triedOf(brief, { 'target bitter': '75', 'high peel': '45', 'left thiol': '1,5' })).toEqual({
      whatIf: { targets: { bitter: 75 }, components: { peel: { high: 0.45 } } },
      onHand: { thiol: 1.5 },
    });
    expect(triedOf(brief, { 'target bitter': ' ' })).toEqual({});
  });

  it('has faults where a field is off its scale', () => {
    expect(
      Object.keys(faultsOf(brief, { 'target bitter': '175', 'high peel': '3', 'left thiol': '-1' })),
    ).toEqual(['target bitter', 'high peel', 'left thiol']);
    expect(faultsOf(brief, { 'target bitter': '75', 'high peel': '45', 'left thiol': '0' })).toEqual({});
  });

  it('is said in words', () => {
    const words = triedInWords(brief, {
      whatIf: { targets: { bitter: 75 }, components: { peel: { high: 0.45 } } },
      onHand: { thiol: 1.5 },
    });
    expect(words).toHaveLength(3);
    expect(words[0]).toBe('Bitter aimed at 75');
    expect(words[1]).toMatch(/^Grapefruit peel oil.* at most 45 parts of 100$/);
    expect(words[2]).toMatch(/^1\.5 g left of Grapefruit thiol/);
  });
});
