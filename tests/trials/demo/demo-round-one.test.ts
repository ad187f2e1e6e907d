import { describe, expect, it } from 'vitest';
import { demoBrief, demoRoundOne } from '../../../trials/demo/demo-round-one.ts';
import { DEMO_ATTRIBUTES, DEMO_COMPONENTS } from '../../../trials/demo/demo-truth.ts';

const brief = demoBrief();
const round = demoRoundOne();
const TWELVE = Array.from({ length: 12 }, (_, i) => `m${i + 1}`);

describe('the demo brief', () => {
  it('names the components and attributes that the truth is made of', () => {
    expect(brief.components.map(({ id }) => id)).toEqual([...DEMO_COMPONENTS]);
    expect(brief.attributes.map(({ id }) => id)).toEqual([...DEMO_ATTRIBUTES]);
  });

  it('warns tasters, bench and label, and marks itself as invented', () => {
    expect(brief.name).toMatch(/invented/);
    for (const to of ['taster', 'bench', 'label'] as const)
      expect(brief.cautions.filter((caution) => caution.to === to).length).toBeGreaterThanOrEqual(4);
    const forTasters = brief.cautions
      .filter(({ to }) => to === 'taster')
      .map(({ text }) => text.toLowerCase());
    for (const word of ['invented', 'cashew', 'pharmacist', 'alcohol', 'pregnancy'])
      expect(
        forTasters.some((text) => text.includes(word)),
        word,
      ).toBe(true);
  });
});

describe('round 1 of the demo', () => {
  it('plans twelve mixes of nine bottles in whole hundredths that sum to four grams, inside every bound', () => {
    expect(round.mixes.map(({ mix }) => mix)).toEqual(TWELVE);
    expect(new Set(round.mixes.map(({ blend }) => blend)).size).toBe(9);
    for (const { planned, ratios, dose } of round.mixes) {
      const steps = Object.values(planned).map((g) => Math.round(g * 100));
      expect(steps.reduce((a, b) => a + b, 0)).toBe(400);
      for (const [i, g] of Object.values(planned).entries()) expect(g).toBeCloseTo(steps[i]! / 100, 12);
      for (const { id, low, high } of brief.components) {
        expect(ratios[id]!).toBeGreaterThanOrEqual(low - 1e-12);
        expect(ratios[id]!).toBeLessThanOrEqual(high + 1e-12);
      }
      expect(ratios['peel']! + 0.2 * ratios['pink']!).toBeLessThanOrEqual(0.53 + 1e-12);
      expect(ratios['noot']! + ratios['thiol']!).toBeGreaterThanOrEqual(0.2 - 1e-12);
      expect([0.17, 0.25, 0.33]).toContain(dose);
    }
  });

  it('pours three bottles at two doses and weighs one blend afresh', () => {
    const twice = round.mixes.filter(
      ({ blend }) => round.mixes.filter((other) => other.blend === blend).length === 2,
    );
    expect(twice).toHaveLength(6);
    for (const { blend, planned, weighed } of twice) {
      const bottle = round.mixes.find((other) => other.mix === blend)!;
      expect(planned).toEqual(bottle.planned);
      expect(weighed).toEqual(bottle.weighed);
    }
    const [afresh] = round.mixes.filter(({ repeats }) => repeats !== null);
    const original = round.mixes.find(({ mix }) => mix === afresh!.repeats)!;
    expect(afresh!.planned).toEqual(original.planned);
    expect(afresh!.blend).not.toBe(original.blend);
    expect(afresh!.weighed).not.toEqual(original.weighed);
  });

  it('keeps one slip of the balance and flags one mix tasted young', () => {
    const slips = round.mixes.flatMap(({ mix, planned, weighed }) =>
      Object.keys(planned)
        .filter((id) => Math.abs(planned[id]! - weighed[id]!) > 0.011)
        .map((id) => ({ mix, id, planned: planned[id], weighed: weighed[id] })),
    );
    expect(slips).toEqual([{ mix: 'm3', id: 'pink', planned: 0.61, weighed: 0.71 }]);
    const ages = round.mixes.map(({ sitting, mixedAtHours }) => {
      return round.sittings.find(({ label }) => label === sitting)!.tastedAtHours - mixedAtHours;
    });
    const young = round.mixes.filter((_, i) => ages[i]! < 40);
    expect(young.map(({ mix }) => mix)).toEqual(['m8']);
    expect(young[0]!.note).toContain('20 h');
    expect(Math.min(...ages)).toBe(20);
  });

  it('pours 96 cups: three mixes and the blind reference for each of six tasters in four sittings', () => {
    expect(round.scores).toHaveLength(96);
    for (const { trays } of round.sittings) {
      expect(trays).toHaveLength(6);
      for (const { cups } of trays) {
        expect(cups.map(({ position }) => position)).toEqual([1, 2, 3, 4]);
        expect(new Set(cups.map(({ mix }) => mix)).size).toBe(4);
        expect(cups.some(({ mix }) => mix === 'reference')).toBe(true);
      }
    }
    const served = new Set(round.scores.map(({ mix }) => mix));
    expect([...served].sort()).toEqual([...TWELVE, 'reference'].sort());
  });

  it('writes codes that no taster meets twice', () => {
    for (const name of ['P1', 'P2', 'P3', 'P4', 'P5', 'P6']) {
      const codes = round.sittings.flatMap(({ trays }) =>
        trays.find(({ assessor }) => assessor === name)!.cups.map(({ code }) => code),
      );
      expect(codes).toHaveLength(16);
      expect(new Set(codes).size).toBe(16);
      for (const code of codes) expect(code).toMatch(/^[1-9][0-9]{2}$/);
    }
    for (const { trays } of round.sittings) {
      const codes = trays.flatMap(({ cups }) => cups.map(({ code }) => code));
      expect(new Set(codes).size).toBe(24);
    }
  });

  it('spreads each cup over the places of a sitting', () => {
    for (const { trays } of round.sittings) {
      for (const mix of trays[0]!.cups.map((cup) => cup.mix)) {
        const places = [1, 2, 3, 4].map(
          (place) => trays.filter(({ cups }) => cups[place - 1]!.mix === mix).length,
        );
        expect(Math.max(...places) - Math.min(...places)).toBeLessThanOrEqual(1);
      }
    }
  });

  it('is the same at every call and another at another seed', () => {
    expect(demoRoundOne()).toEqual(round);
    expect(demoRoundOne(2).scores).not.toEqual(round.scores);
  });
});
