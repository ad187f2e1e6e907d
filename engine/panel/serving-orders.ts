import { EngineError } from '../errors.ts';
import { requireCount } from '../numeric/guard.ts';
import { createRandom, type Random } from '../numeric/random.ts';
import { balancedOrders, lessFair } from './serving/balanced-orders.ts';
import { countBalance, leastBalance, type OrderBalance, selfFollowing } from './serving/order-balance.ts';
import { searchOrders } from './serving/order-search.ts';
import { type OrderShape, shapeSittings } from './serving/order-shape.ts';
import { drawCodes } from './serving-codes.ts';

export interface SittingsInput {
  assessors: readonly string[];
  mixes: readonly string[];
  /** Most cups in a sitting; default: as many as there are mixes. */
  perSitting?: number;
  /** How often each assessor gets each mix; default 1. */
  replicates?: number;
  /** Default `S1`; numbered `S1.1`, `S1.2`, … where an assessor has several sittings. */
  session?: string;
  /** Codes that an assessor met earlier in the trial. */
  usedCodes?: Readonly<Record<string, readonly string[]>>;
  /** Sittings served already, each as mixes in pouring order: the new ones make up for what they lack. */
  served?: readonly (readonly string[])[];
  seed: number;
}

export interface Cup {
  /** 1 = first cup of the sitting. */
  position: number;
  code: string;
  mix: string;
}

export interface Sitting {
  assessor: string;
  session: string;
  cups: Cup[];
}

export interface DrawnSittings {
  sittings: Sitting[];
  /** Over the new sittings and those served already. */
  balance: OrderBalance;
}

/**
 * Draws blind codes and serving orders. Each assessor gets each mix once a replicate, replicates one after the other
 * as whole blocks, each in a sitting of its own unless `perSitting` holds several; a block that does not fit one
 * sitting is cut into parts as equal as can be (incomplete blocks, ISO 29842). Positions are balanced first, what
 * follows what second (Williams 1949; MacFie, Bratchell, Greenhoff and Vallis 1989), company within a cut block third.
 * Which assessor gets which order, and which mix which letter of it, is drawn.
 *
 * @returns sittings by assessor, in the order in which each is to be held
 * @throws EngineError `bad-argument` for repeated or missing names, or a number out of range
 */
export function drawSittings(input: SittingsInput): DrawnSittings {
  const { assessors, mixes, replicates = 1, perSitting = mixes.length, session = 'S1' } = input;
  check(input);
  const random = createRandom(input.seed, 'sittings');
  const shape = shapeSittings(mixes.length, replicates, perSitting);
  const served = (input.served ?? []).map((s) => s.map((mix) => mixes.indexOf(mix)));
  const rows = drawRows(shape, assessors.length, served, random.fork('orders'));
  const sittings = assessors.flatMap((assessor, a) =>
    cutRow(rows[a]!, shape).map((row, s) => ({
      assessor,
      session: shape.sittings > 1 ? `${session}.${s + 1}` : session,
      mixes: row,
    })),
  );
  const codes = drawCodes(
    sittings.map((s) => ({ assessor: s.assessor, session: s.session, cups: s.mixes.length })),
    input.usedCodes ?? {},
    random.fork('codes'),
  );
  return {
    sittings: sittings.map(({ assessor, session, mixes: row }, i) => ({
      assessor,
      session,
      cups: row.map((mix, k) => ({ position: k + 1, code: codes[i]![k]!, mix: mixes[mix]! })),
    })),
    balance: countBalance([...served, ...sittings.map((s) => s.mixes)], mixes.length),
  };
}

/** For each assessor all cups of the trial in order, as indices of mixes. */
function drawRows(shape: OrderShape, assessors: number, served: number[][], random: Random): number[][] {
  const { mixes, blocks } = shape;
  const orders = balancedOrders(mixes, assessors * blocks, random);
  const rows = dealBlocks(orders, assessors, blocks, random);
  const whole = !shape.cut && shape.sittings === blocks;
  if (mixes === 1 || (whole && served.length === 0)) return rows;
  return improved(rows, shape, served, random);
}

const SEARCHES = 2;

/** Anneals orders whose sittings are not whole single blocks; the fairest of the start and a few searches. */
function improved(start: number[][], shape: OrderShape, served: number[][], random: Random): number[][] {
  const cups = start.length * shape.sitting.length;
  const steps = Math.max(20_000, Math.min(250_000, 2500 * cups));
  const all = (rows: readonly number[][]) => [...served, ...rows.flatMap((row) => cutRow(row, shape))];
  const least = leastBalance(
    all(start).map((s) => s.length),
    shape.mixes,
  );
  let best = start;
  for (let n = 0; n < SEARCHES && (n === 0 || lessFair(countBalance(all(best), shape.mixes), least)); n++) {
    const found = searchOrders(start, { shape, served, steps }, random);
    if (preferable(all(found), all(best), shape.mixes)) best = found;
  }
  return best;
}

/** Fewer mixes after themselves first, then the balance; of two equally fair the annealed one. */
function preferable(found: number[][], best: number[][], mixes: number): boolean {
  const [one, other] = [selfFollowing(found), selfFollowing(best)];
  if (one !== other) return one < other;
  return !lessFair(countBalance(found, mixes), countBalance(best, mixes));
}

const DEALS = 20;

/** Deals orders to assessors, replicate by replicate, so that an assessor seldom gets the same order twice. */
function dealBlocks(
  orders: readonly number[][],
  assessors: number,
  blocks: number,
  random: Random,
): number[][] {
  const hands: number[][][] = Array.from({ length: assessors }, () => []);
  for (let block = 0; block < blocks; block++) {
    const part = orders.slice(block * assessors, (block + 1) * assessors);
    let deal = random.shuffle(part);
    for (let n = 1; n < DEALS && repeats(hands, deal) > 0; n++) {
      const another = random.shuffle(part);
      if (repeats(hands, another) < repeats(hands, deal)) deal = another;
    }
    hands.forEach((hand, a) => {
      hand.push(deal[a]!);
    });
  }
  return hands.map((hand) => hand.flat());
}

function repeats(hands: readonly number[][][], deal: readonly number[][]): number {
  const same = (one: readonly number[], other: readonly number[]) => one.every((mix, k) => mix === other[k]);
  return hands.filter((hand, a) => hand.some((order) => same(order, deal[a]!))).length;
}

function cutRow(row: readonly number[], shape: OrderShape): number[][] {
  const out: number[][] = Array.from({ length: shape.sittings }, () => []);
  row.forEach((mix, k) => {
    out[shape.sitting[k]!]!.push(mix);
  });
  return out;
}

function check({ assessors, mixes, perSitting, replicates, served }: SittingsInput): void {
  requireDistinct('assessors', assessors);
  requireDistinct('mixes', mixes);
  requireCount('perSitting', perSitting ?? 1, 1);
  requireCount('replicates', replicates ?? 1, 1);
  const stranger = served?.flat().find((mix) => !mixes.includes(mix));
  if (stranger !== undefined) throw new EngineError('bad-argument', 'served', stranger, 'mixes of this draw');
}

function requireDistinct(argument: string, names: readonly string[]): void {
  if (names.length === 0) throw new EngineError('bad-argument', argument, 'none', 'at least one name');
  const again = names.find((name, i) => names.indexOf(name) !== i);
  if (again !== undefined) throw new EngineError('bad-argument', argument, again, 'each name once');
}
