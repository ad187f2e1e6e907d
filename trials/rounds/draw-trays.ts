import { createRandom } from '../../engine/numeric/random.ts';
import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import { drawCodes } from '../../engine/panel/serving-codes.ts';
import { drawSittings } from '../../engine/panel/serving-orders.ts';
import type { SittingRequest } from '../schema/api.ts';
import type { CupRecord } from '../store/records.ts';

/** An assessor's cups in the order of tasting. */
export interface Tray {
  assessor: string;
  cups: readonly { position: number; code: string; mix: string; replicate: string }[];
}

/** A code that an assessor has met. */
type Met = Pick<CupRecord, 'assessor' | 'code'>;

/**
 * Codes and serving orders of one sitting, balanced by the engine; the warm-up comes first on every tray.
 * @param met codes that assessors have met before in the trial
 */
export function drawTrays(
  { assessors, mixes, replicates, reference, warmup, label }: SittingRequest,
  seed: number,
  met: readonly Met[],
): Tray[] {
  const poured = reference ? [...mixes, REFERENCE] : [...mixes];
  const perSitting = poured.length * replicates;
  const { sittings } = drawSittings({ assessors, mixes: poured, replicates, perSitting, seed });
  const orders = sittings.map(({ cups }) => [...(warmup ? [WARMUP] : []), ...cups.map(({ mix }) => mix)]);
  const sizes = assessors.map((assessor, a) => ({ assessor, session: label, cups: orders[a]!.length }));
  const codes = drawCodes(sizes, codesByAssessor(assessors, met), createRandom(seed, 'codes'));
  return assessors.map((assessor, a) => ({ assessor, cups: numbered(orders[a]!, codes[a]!) }));
}

interface LateSeat {
  assessor: string;
  label: string;
  /** Cups of those who have a tray already. */
  cups: readonly CupRecord[];
  met: readonly Met[];
  seed: number;
}

/** One more tray for a sitting: what the others have, in an order and under codes that fit theirs. */
export function drawLateTray({ assessor, label, cups, met, seed }: LateSeat): Tray {
  const others = [...new Set(cups.map((cup) => cup.assessor))];
  const orders = others.map((name) => cups.filter((cup) => cup.assessor === name).map(({ mix }) => mix));
  const served = orders.map((order) => order.filter((mix) => mix !== WARMUP));
  const mixes = [...new Set(served.flat())].sort();
  const replicates = served[0]!.filter((mix) => mix === mixes[0]).length;
  const perSitting = served[0]!.length;
  const { sittings } = drawSittings({ assessors: [assessor], mixes, replicates, perSitting, served, seed });
  const order = sittings[0]!.cups.map(({ mix }) => mix);
  if (orders[0]![0] === WARMUP) order.unshift(WARMUP);
  const own = met.filter((one) => one.assessor === assessor).map(({ code }) => code);
  const here = cups.map(({ code }) => code);
  const taken = new Set([...own, ...here]).size + order.length <= FEWEST_LEFT ? [...own, ...here] : own;
  const size = [{ assessor, session: label, cups: order.length }];
  const codes = drawCodes(size, { [assessor]: taken }, createRandom(seed, 'codes'));
  return { assessor, cups: numbered(order, codes[0]!) };
}

/** Codes of others in a sitting are left alone while no more than so many of the 900 are taken. */
const FEWEST_LEFT = 800;

function codesByAssessor(assessors: readonly string[], met: readonly Met[]): Record<string, string[]> {
  const codesOf = (assessor: string) => met.filter((m) => m.assessor === assessor).map((m) => m.code);
  return Object.fromEntries(assessors.map((assessor) => [assessor, codesOf(assessor)]));
}

/** Positions from 1, and for each mix which time it is poured. */
function numbered(mixes: readonly string[], codes: readonly string[]): Tray['cups'] {
  return mixes.map((mix, i) => {
    const before = mixes.slice(0, i).filter((one) => one === mix).length;
    return { position: i + 1, code: codes[i]!, mix, replicate: String(before + 1) };
  });
}
