import { describe, expect, it } from 'vitest';
import type { Serving } from '../../../engine/panel/observations.ts';
import { readPanel } from '../../../engine/panel/read-panel.ts';
import { attribute, expectNoNaN, servingsFrom } from './panel-data.ts';

const size = { assessors: 4, mixes: 3, replicates: 2 };
const wobble = (a: number, m: number, r: number) => ((a * 7 + m * 11 + r * 5) % 9) - 4 + 10 * m + 3 * a;

function read(servings: Serving[]) {
  const result = readPanel({ servings, attributes: [attribute('bitter')] });
  expectNoNaN(result);
  return { ...result.attributes[0]!, panelWarnings: result.warnings };
}

describe('panels that cannot tell', () => {
  it('says that every score is the same', () => {
    const found = read(servingsFrom(size, () => [50]));
    expect(found.status).toBe('constant');
    expect(found.mixTest).toEqual({
      f: null,
      numDf: null,
      denDf: null,
      p: null,
      reason: 'every score is the same',
    });
    expect(found.variance).toEqual({ assessor: null, assessorByMix: null, session: null, residual: null });
    expect(found.means.map((m) => [m.mean, m.standardError])).toEqual([
      [50, null],
      [50, null],
      [50, null],
    ]);
    expect(found.assessors[0]!.says).toContain('gave every cup the same score');
  });

  it('says that no score was given', () => {
    const found = read(servingsFrom(size, () => [null]));
    expect(found.status).toBe('missing');
    expect(found.means).toEqual([]);
    expect(found.panelWarnings).toContain('there is no score to read');
  });

  it('reads the level of one mix and tests nothing', () => {
    const found = read(servingsFrom({ ...size, mixes: 1 }, (a, m, r) => [wobble(a, m, r)]));
    expect(found.status).toBe('one-mix');
    expect(found.mixTest.p).toBeNull();
    expect(found.means).toHaveLength(1);
    expect(found.means[0]!.standardError).toBeGreaterThan(0);
  });

  it('falls back to least squares with one assessor, degrees of freedom n - p', () => {
    const found = read(servingsFrom({ ...size, assessors: 1 }, (a, m, r) => [wobble(a, m, r)]));
    expect(found.status).toBe('estimated');
    expect(found.mixTest.denDf).toBe(3);
    expect(found.variance.assessor).toBeNull();
    expect(found.assessors[0]!.agreement).toBeNull();
    expect(found.reduced[0]).toContain('one assessor');
  });

  it('gives means without standard errors where every mix was tasted once by one person', () => {
    const found = read(
      servingsFrom({ assessors: 1, mixes: 3, replicates: 1 }, (a, m, r) => [wobble(a, m, r)]),
    );
    expect(found.status).toBe('no-residual');
    expect(found.means.every((m) => m.standardError === null)).toBe(true);
    expect(found.reason).not.toBeNull();
  });

  it('leaves assessor by mix out where nobody tasted a mix twice, in the scores that are there', () => {
    const once = servingsFrom(size, (a, m, r) => [r === 0 ? wobble(a, m, r) : null]);
    expect(read(once).variance.assessorByMix).toBeNull();
    const twice = servingsFrom(size, (a, m, r) => [r === 0 || (a === 0 && m === 0) ? wobble(a, m, r) : null]);
    expect(read(twice).reduced.join()).not.toContain('scored a mix twice');
  });

  it('has no session effect with one session and has one with two', () => {
    const base = servingsFrom(size, (a, m, r) => [wobble(a, m, r)]);
    expect(read(base.map((s) => ({ ...s, session: 'Tue' }))).variance.session).toBeNull();
    expect(read(base.map((s) => ({ ...s, session: s.replicate }))).variance.session).not.toBeNull();
  });

  it('names sessions that nothing links, and is content when the reference links them', () => {
    const base = servingsFrom({ ...size, mixes: 4 }, (a, m, r) => [wobble(a, m, r)]).map((s) => ({
      ...s,
      session: s.mix < 'm3' ? 'Tue' : 'Wed',
    }));
    expect(read(base).warnings.join()).toContain('"Tue" and "Wed"');
    const linked = base.map((s) =>
      s.mix === 'm2' || s.mix === 'm4' ? { ...s, mix: 'reference', replicate: s.replicate + s.mix } : s,
    );
    expect(read(linked).warnings.join()).not.toContain('links the sessions');
  });

  it('never analyses warm-up cups', () => {
    const base = servingsFrom(size, (a, m, r) => [wobble(a, m, r)]);
    const warm = base.slice(0, 5).map((s) => ({ ...s, mix: 'warmup', scores: [99] }));
    expect(read([...warm, ...base]).means).toEqual(read(base).means);
  });

  it('refuses servings whose scores do not match the attributes', () => {
    expect(() =>
      readPanel({ servings: servingsFrom(size, () => [1, 2]), attributes: [attribute('bitter')] }),
    ).toThrow(/servings\[0\]\.scores/);
  });

  it('treats names that spell something of the language as names only', () => {
    const names = ['constructor', '__proto__', '=1+1'];
    const odd = servingsFrom(size, (a, m, r) => [wobble(a, m, r)]).map((s) => ({
      ...s,
      mix: names[Number(s.mix.slice(1)) - 1]!,
      assessor: s.assessor === 'P1' ? 'toString' : s.assessor,
    }));
    const plain = read(servingsFrom(size, (a, m, r) => [wobble(a, m, r)]));
    const found = read(odd);
    for (const [i, name] of names.entries())
      expect(found.means.find((m) => m.mix === name)!.mean).toBeCloseTo(plain.means[i]!.mean, 10);
  });
});

describe('what is said about assessors', () => {
  const profile = [20, 35, 50, 65, 80];
  const noise = (a: number, m: number, r: number) => (((a * 13 + m * 29 + r * 17) % 11) - 5) / 2;
  const panel = servingsFrom({ assessors: 6, mixes: 5, replicates: 2 }, (a, m, r) => {
    const e = noise(a, m, r);
    if (a === 1) return [profile[m]! + 20 + e];
    if (a === 2) return [50 + 0.5 * (profile[m]! - 50) + e];
    if (a === 3) return [100 - profile[m]! + e];
    if (a === 4) return [55];
    return [profile[m]! + e];
  });
  const says = new Map(
    readPanel({ servings: panel, attributes: [attribute('bitter')] }).attributes[0]!.assessors.map((a) => [
      a.assessor,
      a,
    ]),
  );

  it('knows a high level from a wrong ranking', () => {
    expect(says.get('P2')!.says).toMatch(
      /^P2 scores everything about \d+ higher than the panel, but ranks the mixes as the others do/,
    );
  });
  it('knows a narrow use of the scale', () => {
    expect(says.get('P3')!.agreement).toBeGreaterThan(0.9);
    expect(says.get('P3')!.scaling).toBeLessThan(says.get('P1')!.scaling!);
  });
  it('knows a reversed ranking', () => {
    expect(says.get('P4')!.agreement).toBeLessThan(-0.9);
    expect(says.get('P4')!.says).toContain('against the others');
  });
  it('knows a straight line', () => {
    expect(says.get('P5')!.says).toBe(
      'P5 gave every cup the same score: no mix can be told from another by it.',
    );
    expect(says.get('P5')!.agreement).toBeNull();
  });
  it('averages the scalings of a complete panel to one', () => {
    const all = [...says.values()].map((a) => a.scaling!);
    expect(all.reduce((s, v) => s + v, 0) / all.length).toBeCloseTo(1, 12);
  });

  it('shows both ways when an assessor is set aside', () => {
    const [found] = readPanel({
      servings: panel,
      attributes: [attribute('bitter')],
      assessorsSetAside: ['P4'],
    }).attributes;
    const all = readPanel({ servings: panel, attributes: [attribute('bitter')] }).attributes[0]!;
    expect(found!.withEveryone!.means).toEqual(all.means);
    expect(found!.means[0]!.mean).not.toBeCloseTo(all.means[0]!.mean, 3);
    const aside = found!.assessors.find((a) => a.assessor === 'P4')!;
    expect([aside.setAside, aside.says.includes('against the others')]).toEqual([true, true]);
    expect(found!.means[0]!.cups).toBe(10);
  });

  it('names ballots that look copied or drawn as a line', () => {
    const questions = [attribute('bitter'), attribute('sweet'), attribute('fresh')];
    const odd = servingsFrom({ assessors: 4, mixes: 5, replicates: 1 }, (a, m) => {
      if (a === 0) return [50 + m, 50 + m, 50 + m];
      const who = a === 3 ? 2 : a;
      return [profile[m]! + who, 20 + who * m, 70 - 3 * m * who];
    });
    const { warnings } = readPanel({ servings: odd, attributes: questions });
    expect(warnings).toContain('P1 gave one score to every question in 5 of 5 cups');
    expect(warnings).toContain('P3 and P4 gave exactly the same scores in every cup');
  });

  it('warns of a first cup that is scored higher', () => {
    const first = servingsFrom({ assessors: 6, mixes: 5, replicates: 2 }, (a, m, r) => [
      profile[m]! + noise(a, m, r) + ((m + a) % 5 === 0 ? 15 : 0),
    ]);
    const [found] = readPanel({ servings: first, attributes: [attribute('bitter')] }).attributes;
    expect(found!.warnings.join()).toMatch(/first cup of a sitting is scored about 1[0-9] higher/);
    const [clean] = readPanel({
      servings: panel.filter((s) => s.assessor !== 'P4'),
      attributes: [attribute('bitter')],
    }).attributes;
    expect(clean!.warnings.join()).not.toContain('first cup');
  });
});
