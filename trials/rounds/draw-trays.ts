import { createRandom } from '../../engine/numeric/random.ts';
import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import { drawCodes } from '../../engine/panel/serving-codes.ts';
import { drawSittings } from '../../engine/panel/serving-orders.ts';
import type { SittingRequest } from '../schema/api.ts';

/** An assessor's cups in the order of tasting. */
export interface Tray {
  assessor: string;
  cups: readonly { position: number; code: string; mix: string; replicate: string }[];
}

/**
 * Codes and serving orders of one sitting, balanced by the engine; the warm-up comes first on every tray.
 * @param met codes that assessors have met before in the trial
 */
export function drawTrays(
  { assessors, mixes, replicates, reference, warmup, label }: SittingRequest,
  seed: number,
  met: readonly { assessor: string; code: string }[],
): Tray[] {
  const poured = reference ? [...mixes, REFERENCE] : [...mixes];
  const usedCodes = codesByAssessor(assessors, met);
  const cups = poured.length * replicates;
  const { sittings } = drawSittings({
    assessors,
    mixes: poured,
    replicates,
    perSitting: cups,
    usedCodes,
    seed,
  });
  const trays = sittings.map((one) => one.cups.map(({ code, mix }) => ({ code, mix })));
  if (warmup) {
    const sizes = assessors.map((assessor) => ({ assessor, session: label, cups: cups + 1 }));
    const codes = drawCodes(sizes, usedCodes, createRandom(seed, 'codes with warm-up'));
    trays.forEach((tray, a) => {
      tray.unshift({ code: '', mix: WARMUP });
      tray.forEach((cup, i) => {
        cup.code = codes[a]![i]!;
      });
    });
  }
  return trays.map((tray, a) => ({ assessor: assessors[a]!, cups: numbered(tray) }));
}

function codesByAssessor(
  assessors: readonly string[],
  met: readonly { assessor: string; code: string }[],
): Record<string, string[]> {
  const codesOf = (assessor: string) => met.filter((m) => m.assessor === assessor).map((m) => m.code);
  return Object.fromEntries(assessors.map((assessor) => [assessor, codesOf(assessor)]));
}

/** Positions from 1, and for each mix which time it is poured. */
function numbered(cups: readonly { code: string; mix: string }[]): Tray['cups'] {
  return cups.map(({ code, mix }, i) => {
    const before = cups.slice(0, i).filter((cup) => cup.mix === mix).length;
    return { position: i + 1, code, mix, replicate: String(before + 1) };
  });
}
