import { drawTestSets } from '../../engine/difference/test-sets.ts';
import { createRandom } from '../../engine/numeric/random.ts';
import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import { drawCodes } from '../../engine/panel/serving-codes.ts';
import { drawSittings } from '../../engine/panel/serving-orders.ts';
import type { CupRecord, Manner } from '../store/records.ts';
import { partsOf } from './cup-parts.ts';
import { type Met, numbered, type Tray } from './draw-trays.ts';

interface LateSeat {
  assessor: string;
  label: string;
  manner: Manner;
  /** Cups of those who have a tray already; those of absent tasters are left out. */
  cups: readonly CupRecord[];
  met: readonly Met[];
  seed: number;
}

/** One more tray for a sitting: what the others have, in an order and under codes that fit theirs. */
export function drawLateTray(seat: LateSeat): Tray {
  if (seat.manner.test !== undefined) return lateSets(seat, seat.manner.test);
  if (seat.manner.hidden !== undefined) return lateHidden(seat);
  const { assessor, cups, seed } = seat;
  const orders = ordersOf(cups, ({ mix }) => mix);
  const served = orders.map((order) => order.filter((mix) => mix !== WARMUP));
  const mixes = [...new Set(served.flat())].sort();
  const replicates = served[0]!.filter((mix) => mix === mixes[0]).length;
  const perSitting = served[0]!.length;
  const { sittings } = drawSittings({ assessors: [assessor], mixes, replicates, perSitting, served, seed });
  const order = sittings[0]!.cups.map(({ mix }) => mix);
  if (orders[0]![0] === WARMUP) order.unshift(WARMUP);
  return { assessor, cups: numbered(order, freshCodes(seat, order.length)) };
}

/** The shared codes of a sitting whose names are hidden, in an order that makes up for what the others lack. */
function lateHidden({ assessor, cups, seed }: LateSeat): Tray {
  const warmup = cups.find(({ mix }) => mix === WARMUP);
  const served = ordersOf(
    cups.filter(({ mix }) => mix !== WARMUP),
    ({ code }) => code,
  );
  const vessels = [...new Set(served.flat())].sort();
  const input = { assessors: [assessor], mixes: vessels, perSitting: vessels.length, served, seed };
  const order = drawSittings(input).sittings[0]!.cups.map(({ mix }) => ({ code: mix, mix: '' }));
  const tray = [...(warmup ? [{ code: warmup.code, mix: WARMUP }] : []), ...order];
  return { assessor, cups: tray.map((cup, i) => ({ ...cup, position: i + 1, replicate: '1' })) };
}

/** As many sets of the difference test as the others have. */
function lateSets(seat: LateSeat, { form, stronger }: NonNullable<Manner['test']>): Tray {
  const { assessor, cups, seed } = seat;
  const parts = partsOf(cups.filter((cup) => cup.assessor === cups[0]!.assessor));
  const [one = '', other = ''] = [...new Set(cups.map(({ mix }) => mix))].sort();
  const known = [one, other].includes(REFERENCE);
  const b = stronger ?? (one === REFERENCE ? other : one);
  const a = b === one ? other : one;
  const asked = { method: form, assessors: 1, sets: parts.length, markA: known };
  const order = drawTestSets(asked, createRandom(seed, 'sets'))[0]!.flat();
  const drinks = order.map((drink) => (drink === 'a' ? a : b));
  const size = parts[0]!.cups.length;
  const tray = numbered(drinks, freshCodes(seat, drinks.length));
  return { assessor, cups: tray.map((cup) => ({ ...cup, part: Math.ceil(cup.position / size) })) };
}

function ordersOf(cups: readonly CupRecord[], of: (cup: CupRecord) => string): string[][] {
  const others = [...new Set(cups.map((cup) => cup.assessor))];
  return others.map((name) => cups.filter((cup) => cup.assessor === name).map(of));
}

/** Codes that this taster has not met and, while enough are left, nobody here has. */
function freshCodes({ assessor, label, cups, met, seed }: LateSeat, count: number): string[] {
  const own = met.filter((one) => one.assessor === assessor).map(({ code }) => code);
  const here = cups.map(({ code }) => code);
  const taken = new Set([...own, ...here]).size + count <= FEWEST_LEFT ? [...own, ...here] : own;
  const size = [{ assessor, session: label, cups: count }];
  return drawCodes(size, { [assessor]: taken }, createRandom(seed, 'codes'))[0]!;
}

/** Codes of others in a sitting are left alone while no more than so many of the 900 are taken. */
const FEWEST_LEFT = 800;
