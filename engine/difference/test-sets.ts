import { requireCount } from '../numeric/guard.ts';
import type { Random } from '../numeric/random.ts';
import { requireMethod } from './check-input.ts';
import type { DifferenceMethod } from './methods.ts';

/** Which of the two drinks stands in a cup of a set. */
export type Drink = 'a' | 'b';

/**
 * Orders in which a set may be served, all of them: triangle and tetrad (ISO 4120; ASTM E3009), duo-trio with the
 * marked cup first and either drink marked (ISO 10399), forced choice (ISO 5495; three cups with one stronger).
 */
const ORDERS: Record<DifferenceMethod, readonly string[]> = {
  triangle: ['aab', 'aba', 'baa', 'bba', 'bab', 'abb'],
  'duo-trio': ['aab', 'aba', 'bba', 'bab'],
  tetrad: ['aabb', 'abab', 'abba', 'bbaa', 'baba', 'baab'],
  'two-afc': ['ab', 'ba'],
  'three-afc': ['aab', 'aba', 'baa'],
};

/** The same where `a` is the drink that everybody knows and is always the marked one. */
const KNOWN_MARKED = ['aab', 'aba'];

export interface TestSets {
  method: DifferenceMethod;
  assessors: number;
  /** Sets for each assessor. */
  sets: number;
  /** Duo-trio only: the marked cup always holds `a`. */
  markA?: boolean;
}

/**
 * Serving orders of a difference test: every order of the method equally often over all sets, or as nearly as
 * counting allows, and for one assessor no order again before all have been served. Who begins where is drawn.
 * @returns for each assessor, for each set, what stands in its cups from left to right; in forced choice `b` is the
 * one that should be stronger
 * @throws EngineError `bad-argument` for an unknown method or numbers below 1
 */
export function drawTestSets(asked: TestSets, random: Random): Drink[][][] {
  const { method, assessors, sets, markA = false } = asked;
  requireMethod(method);
  requireCount('assessors', assessors, 1);
  requireCount('sets', sets, 1);
  const orders = method === 'duo-trio' && markA ? KNOWN_MARKED : ORDERS[method];
  const cycle = random.shuffle(orders);
  const rows = Array.from({ length: assessors }, (_, a) =>
    Array.from({ length: sets }, (_, s) => cycle[(a * sets + s) % cycle.length]!),
  );
  return random.shuffle(rows).map((row) => mingled(row, cycle.length, random).map((o) => [...o] as Drink[]));
}

/** A row shuffled within each stretch that holds no order twice. */
function mingled(row: readonly string[], stretch: number, random: Random): string[] {
  const out: string[] = [];
  for (let s = 0; s < row.length; s += stretch) out.push(...random.shuffle(row.slice(s, s + stretch)));
  return out;
}

/**
 * Which cups of a set answer it rightly.
 * @param method the test @param stronger the stronger drink of a forced choice
 * @param cups what stands in the cups from left to right
 * @returns places (from 0) that count as right: the odd one, the one like the marked, the partner of the first, or
 * the stronger
 */
export function rightPlaces(method: DifferenceMethod, cups: readonly string[], stronger: string): number[] {
  const alike = (place: number) => cups.filter((drink) => drink === cups[place]).length;
  const places = cups.map((_, place) => place);
  if (method === 'triangle') return places.filter((place) => alike(place) === 1);
  if (method === 'duo-trio' || method === 'tetrad')
    return places.filter((place) => place > 0 && cups[place] === cups[0]);
  return places.filter((place) => cups[place] === stronger);
}
