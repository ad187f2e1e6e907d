import { expect, it } from 'vitest';
import { createRandom } from '../../../engine/numeric/random.ts';
import { OthersLevels } from '../../../engine/panel/others-levels.ts';
import { additiveFit, type ProfileTable } from '../../../engine/panel/profile-table.ts';

/** Seven assessors, five mixes, a third of the cells empty; the last mix was tasted by assessor 0 alone. */
function drawnTable(seed: number): ProfileTable {
  const random = createRandom(seed);
  const [assessors, mixes] = [7, 5];
  const count = Int32Array.from({ length: assessors * mixes }, (_, cell) =>
    cell % mixes === mixes - 1 ? Number(cell < mixes) : Number(random.uniform() < 0.7),
  );
  const mean = Float64Array.from(count, (n) => (n > 0 ? 50 + 10 * random.normal() : 0));
  return { assessors, mixes, mean, count };
}

it.each([1, 2, 3, 4, 5])(
  'leaves one assessor out as the additive fit of the others does, table %s',
  (seed) => {
    const table = drawnTable(seed);
    const all = [0, 1, 2, 3, 4, 5];
    const levels = new OthersLevels(table, all);
    for (const a of [...all, 6]) {
      const expected = additiveFit(
        table,
        all.filter((b) => b !== a),
      );
      const found = levels.without(a);
      expect(found.hasMix).toEqual(expected.hasMix);
      const present = [...expected.hasMix.keys()].filter((m) => expected.hasMix[m]);
      for (const m of present) {
        const [own, theirs] = [found, expected].map(({ mix }) => mix[m]! - mix[present[0]!]!);
        expect(Math.abs(own! - theirs!)).toBeLessThan(1e-7);
      }
    }
  },
);
