import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { chiSquareUpper } from '../../../engine/numeric/chi-square.ts';
import { normalCdf } from '../../../engine/numeric/normal.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import { sobolPoints } from '../../../engine/numeric/sobol.ts';
import { expectClose } from './closeness.ts';

const { streams } = JSON.parse(readFileSync('tests/reference/numeric/random.json', 'utf8'));
const { sobol } = JSON.parse(readFileSync('tests/reference/numeric/numeric.json', 'utf8'));

/** Pearson's chi-square of counts that should be equal. */
function evenness(counts: readonly number[]): number {
  const expected = counts.reduce((a, b) => a + b, 0) / counts.length;
  return chiSquareUpper(
    counts.reduce((sum, n) => sum + (n - expected) ** 2 / expected, 0),
    counts.length - 1,
  );
}

test("uniforms are those of NumPy's Mersenne twister behind the same hash, to the last bit", () => {
  for (const { text, uniforms } of streams) {
    const [seed, name] = text.split(' ');
    const random = createRandom(Number(seed), name);
    expect(uniforms.map(() => random.uniform())).toEqual(uniforms);
  }
  const forked = createRandom(1, 'check').fork('a');
  expect(forked.uniform()).toBe(streams[2].uniforms[0]);
});

test('neighbouring seeds and names are unrelated from the first number on', () => {
  const first = Array.from({ length: 4000 }, (_, seed) => createRandom(seed).uniform());
  const mean = first.reduce((a, b) => a + b, 0) / first.length;
  const lag = first.slice(1).reduce((sum, v, i) => sum + (v - mean) * (first[i]! - mean), 0);
  expect(Math.abs((12 * lag) / first.length)).toBeLessThan(4 / Math.sqrt(first.length));
  const counts = new Array<number>(20).fill(0);
  for (const v of first) counts[Math.floor(20 * v)]!++;
  expect(evenness(counts)).toBeGreaterThan(0.001);
  expect(new Set(['a', 'b', 'ab', 'ba', ''].map((name) => createRandom(1, name).uniform())).size).toBe(5);
});

test('a fork does not move its parent, and forks by other names differ', () => {
  const [one, other] = [createRandom(4), createRandom(4)];
  const fork = one.fork('x');
  expect(one.uniform()).toBe(other.uniform());
  expect(fork.uniform()).toBe(other.fork('x').uniform());
  expect(other.fork('x').uniform()).not.toBe(other.fork('y').uniform());
});

test('uniforms, normals, whole numbers and shuffles are what they say', () => {
  const random = createRandom(7, 'shape');
  const uniform = new Array<number>(50).fill(0);
  const normal = new Array<number>(50).fill(0);
  const whole = new Array<number>(7).fill(0);
  const orders = new Map<string, number>();
  for (let i = 0; i < 40_000; i++) {
    uniform[Math.floor(50 * random.uniform())]!++;
    normal[Math.floor(50 * normalCdf(random.normal()))]!++;
    whole[random.integer(7)]!++;
    const order = random.shuffle(['a', 'b', 'c', 'd']).join('');
    orders.set(order, (orders.get(order) ?? 0) + 1);
  }
  expect(orders.size).toBe(24);
  for (const counts of [uniform, normal, whole, [...orders.values()]])
    expect(evenness(counts)).toBeGreaterThan(0.001);
  expect(random.integer(1)).toBe(0);
  const kept = ['a', 'b'];
  random.shuffle(kept);
  expect(kept).toEqual(['a', 'b']);
  expect(() => random.integer(0)).toThrow(/n: found 0/);
  expect(() => createRandom(Number.NaN)).toThrow(/seed/);
});

test("Sobol' points against SciPy, 21 dimensions, to the last bit", () => {
  expect(sobolPoints(21, sobol.length)).toEqual(sobol);
});

test('shifted points fill every slice of a power of two once, and average to the middle', () => {
  const points = sobolPoints(21, 256, createRandom(3));
  for (let j = 0; j < 21; j++) {
    expect(new Set(points.map((p) => Math.floor(256 * p[j]!))).size).toBe(256);
    expectClose(points.reduce((sum, p) => sum + p[j]!, 0) / 256, 0.5, 0, 0.003);
  }
  expect(sobolPoints(3, 4, createRandom(3))).not.toEqual(sobolPoints(3, 4, createRandom(4)));
  expect(() => sobolPoints(22, 4)).toThrow(/dimension/);
  expect(() => sobolPoints(0, 4)).toThrow(/dimension/);
});
