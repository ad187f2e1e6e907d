import { factsOf } from '../../engine/difference/methods.ts';
import { drawTestSets } from '../../engine/difference/test-sets.ts';
import { createRandom } from '../../engine/numeric/random.ts';
import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import { drawCodes } from '../../engine/panel/serving-codes.ts';
import { drawSittings } from '../../engine/panel/serving-orders.ts';
import type { SittingRequest } from '../schema/api.ts';
import type { CupRecord } from '../store/records.ts';

/** An assessor's cups in the order of tasting. */
export interface Tray {
  assessor: string;
  cups: readonly { position: number; code: string; mix: string; replicate: string; part?: number }[];
}

/** A code that an assessor has met. */
export type Met = Pick<CupRecord, 'assessor' | 'code'>;

/**
 * Codes and serving orders of one sitting, balanced by the engine; the warm-up comes first on every tray.
 * @param met codes that assessors have met before in the trial
 */
export function drawTrays(request: SittingRequest, seed: number, met: readonly Met[]): Tray[] {
  if (request.test !== undefined) return drawTestTrays(request, seed, met);
  if (request.alone) return drawHiddenTrays(request, seed, met);
  const { assessors, replicates, warmup, label } = request;
  const poured = pouredMixes(request);
  const perSitting = poured.length * replicates;
  const { sittings } = drawSittings({ assessors, mixes: poured, replicates, perSitting, seed });
  const orders = sittings.map(({ cups }) => [...(warmup ? [WARMUP] : []), ...cups.map(({ mix }) => mix)]);
  return coded({ assessors, label }, orders, { seed, met });
}

/** What stands in the cups of a sitting, the reference last. */
export function pouredMixes({ mixes, reference }: SittingRequest): string[] {
  return reference ? [...mixes, REFERENCE] : [...mixes];
}

/** What one taster is served, in no particular order. */
export function cupsOfOne(request: SittingRequest): string[] {
  const { replicates, warmup, test } = request;
  const poured = pouredMixes(request);
  // A set of three holds one drink twice: which, is drawn. Both are counted, as the most there can be.
  const times = test ? replicates * Math.ceil(factsOf(test.form).cups / 2) : replicates;
  return [...(warmup ? [WARMUP] : []), ...Array.from({ length: times }, () => poured).flat()];
}

/** Trays of given orders under drawn codes, none of which a taster has met. */
function coded(
  { assessors, label }: Pick<SittingRequest, 'assessors' | 'label'>,
  orders: readonly (readonly string[])[],
  { seed, met }: { seed: number; met: readonly Met[] },
): Tray[] {
  const sizes = assessors.map((assessor, a) => ({ assessor, session: label, cups: orders[a]!.length }));
  const codes = drawCodes(sizes, codesByAssessor(met), createRandom(seed, 'codes'));
  return assessors.map((assessor, a) => ({ assessor, cups: numbered(orders[a]!, codes[a]!) }));
}

/** Sets of a difference test, each set a part of its own. */
function drawTestTrays(request: SittingRequest, seed: number, met: readonly Met[]): Tray[] {
  const { assessors, replicates: sets, test } = request;
  const [a, b] = testPair(request);
  const asked = { method: test!.form, assessors: assessors.length, sets, markA: request.reference };
  const rows = drawTestSets(asked, createRandom(seed, 'sets'));
  const orders = rows.map((row) => row.flat().map((drink) => (drink === 'a' ? a : b)));
  const size = rows[0]![0]!.length;
  const withPart = (cup: Tray['cups'][number]) => ({ ...cup, part: Math.ceil(cup.position / size) });
  return coded(request, orders, { seed, met }).map((tray) => ({ ...tray, cups: tray.cups.map(withPart) }));
}

/** The two drinks of a difference test: the reference, or the weaker, first. */
function testPair(request: SittingRequest): [string, string] {
  const [one, other] = pouredMixes(request) as [string, string];
  const first = request.test?.stronger ?? (request.reference ? one : other);
  return first === one ? [other, one] : [one, other];
}

/**
 * Trays of which nobody knows what they hold: each bottle or cup bears one code that all tasters share, in balanced
 * orders; the warm-up alone is known.
 */
function drawHiddenTrays(request: SittingRequest, seed: number, met: readonly Met[]): Tray[] {
  const { assessors, replicates, warmup, label } = request;
  const vessels = Array.from({ length: pouredMixes(request).length * replicates }, (_, v) => `vessel ${v}`);
  const { sittings } = drawSittings({ assessors, mixes: vessels, perSitting: vessels.length, seed });
  const cups = vessels.length + (warmup ? 1 : 0);
  const all = met.filter(({ assessor }) => assessors.includes(assessor)).map(({ code }) => code);
  const used = { ...codesByAssessor(met), all };
  const size = [{ assessor: 'all', session: label, cups }];
  const codes = drawCodes(size, used, createRandom(seed, 'codes'))[0]!;
  const first = warmup ? [{ code: codes[vessels.length]!, mix: WARMUP }] : [];
  return assessors.map((assessor, a) => {
    const rest = sittings[a]!.cups.map(({ mix }) => ({ code: codes[vessels.indexOf(mix)]!, mix: '' }));
    const tray = [...first, ...rest].map((cup, i) => ({ ...cup, position: i + 1, replicate: '1' }));
    return { assessor, cups: tray };
  });
}

function codesByAssessor(met: readonly Met[]): Record<string, string[]> {
  const codes = new Map<string, string[]>();
  for (const { assessor, code } of met) {
    const own = codes.get(assessor);
    if (own) own.push(code);
    else codes.set(assessor, [code]);
  }
  return Object.fromEntries(codes);
}

/** Positions from 1, and for each mix which time it is poured. */
export function numbered(mixes: readonly string[], codes: readonly string[]): Tray['cups'] {
  return mixes.map((mix, i) => {
    const before = mixes.slice(0, i).filter((one) => one === mix).length;
    return { position: i + 1, code: codes[i]!, mix, replicate: String(before + 1) };
  });
}
