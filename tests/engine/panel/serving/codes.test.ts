import { expect, test } from 'vitest';
import { createRandom } from '../../../../engine/numeric/random.ts';
import { drawCodes, type SittingToCode, suggestive } from '../../../../engine/panel/serving-codes.ts';

const all = Array.from({ length: 900 }, (_, i) => 100 + i);
const sittings = (count: number, cups: number, session = 'S1'): SittingToCode[] =>
  Array.from({ length: count }, (_, i) => ({ assessor: `P${i + 1}`, session, cups }));

test('the rule for codes that people read something into', () => {
  for (const code of [111, 100, 911, 666, 420, 121, 123, 987, 456, 137, 247, 365, 550])
    expect(suggestive(code)).toBe(true);
  for (const code of [273, 819, 492, 358, 604]) expect(suggestive(code)).toBe(false);
  // 8 × 8 × 8 codes have three different digits, no one in front and no zero at the end
  expect(all.filter((code) => !suggestive(code))).toHaveLength(512 - runs() - 2);
});

function runs(): number {
  let count = 0;
  for (let a = 2; a <= 9; a++) {
    if (a + 2 <= 9) count++;
    if (a - 2 >= 1) count++;
  }
  return count;
}

test('none twice in a session and none suggestive while they suffice', () => {
  const codes = drawCodes(sittings(40, 12), {}, createRandom(1)).flat();
  expect(codes).toHaveLength(480);
  expect(new Set(codes).size).toBe(480);
  expect(codes.filter((c) => suggestive(Number(c)))).toEqual([]);
});

test('all 900 in a session of 900 cups; beyond that none twice for an assessor and each at most twice', () => {
  const full = drawCodes(sittings(75, 12), {}, createRandom(1)).flat();
  expect(new Set(full).size).toBe(900);
  const beyond = drawCodes(sittings(100, 12), {}, createRandom(1));
  const uses = new Map<string, number>();
  for (const codes of beyond) {
    expect(new Set(codes).size).toBe(12);
    for (const code of codes) uses.set(code, (uses.get(code) ?? 0) + 1);
  }
  expect(Math.max(...uses.values())).toBe(2);
});

test('a later session takes codes that nobody met before, while they suffice', () => {
  const codes = drawCodes([...sittings(10, 8, 'S1'), ...sittings(10, 8, 'S2')], {}, createRandom(2)).flat();
  expect(new Set(codes).size).toBe(160);
});

test('codes that an assessor met are not drawn for that assessor again', () => {
  const plain = all.filter((code) => !suggestive(code)).map(String);
  const kept = plain.slice(0, 6);
  const used = { P1: plain.filter((code) => !kept.includes(code)) };
  const [mine] = drawCodes(sittings(1, 6), used, createRandom(3));
  expect([...mine!].sort()).toEqual(kept);
});

test('where two assessors have few codes left, cups make room for each other', () => {
  const left = (codes: number[]) => all.filter((code) => !codes.includes(code)).map(String);
  const used = { P1: left([273, 358, 492]), P2: left([273, 358, 604]), P3: left([273, 604, 819]) };
  for (let seed = 0; seed < 20; seed++) {
    const codes = drawCodes(sittings(3, 1), used, createRandom(seed)).flat();
    expect(new Set(codes).size).toBe(3);
    const two = drawCodes(
      sittings(2, 2),
      { P1: left([273, 358]), P2: used.P2.filter((c) => c !== '819') },
      createRandom(seed),
    );
    expect([...two[0]!].sort()).toEqual(['273', '358']);
    expect([...two[1]!].sort()).toEqual(['604', '819']);
  }
});

test('an assessor without codes left is named', () => {
  const used = { P1: all.slice(0, 897).map(String) };
  expect(() => drawCodes(sittings(1, 4), used, createRandom(1))).toThrow(/usedCodes: found "P1"/);
});
