import { createRandom } from '../../engine/numeric/random.ts';
import { drawCodes } from '../../engine/panel/serving-codes.ts';
import type { LadderTrayRecord } from '../store/records.ts';

/**
 * Draws codes and places of a ladder of doses: three cups a rung for each taster, the one with the component in a place
 * of its own drawing.
 * @param seed fixes all of it
 */
export function drawLadderTrays(rungs: number, tasters: readonly string[], seed: number): LadderTrayRecord[] {
  const random = createRandom(seed, 'ladder');
  const sittings = tasters.map((assessor) => ({ assessor, session: 'ladder', cups: 3 * rungs }));
  const codes = drawCodes(sittings, {}, random.fork('codes'));
  return tasters.map((assessor, t) => ({
    assessor,
    threes: Array.from({ length: rungs }, (_, k) => {
      const three = codes[t]!.slice(3 * k, 3 * k + 3);
      return { codes: three, odd: three[random.integer(3)]! };
    }),
  }));
}
