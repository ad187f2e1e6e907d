/**
 * Names that go on where the mixes left off: m13, m14 after m12. What is not numbered so is passed over, and a name
 * that is taken is never given again.
 */
export function nextMixNames(taken: readonly string[], count: number): string[] {
  const numbers = taken.map((name) => /^m(\d{1,9})$/.exec(name)?.[1]).filter((n) => n !== undefined);
  const last = numbers.reduce((most, n) => Math.max(most, Number(n)), 0);
  return Array.from({ length: count }, (_, i) => `m${last + i + 1}`);
}
