import { describe, expect, it } from 'vitest';
import { chanceTable, searchTables } from '../../scripts/bench/aim-tables.ts';
import type { WorldResult } from '../../scripts/bench/aim-world.ts';
import { loadSolver } from '../../trials/solver.ts';
import type { Method } from './baselines/baseline.ts';
import { oneAtATime } from './baselines/plain-searches.ts';
import { halfSpacesOf } from './hit-and-run.ts';
import { ourSearch, type Said } from './our-search.ts';
import { play } from './play.ts';
import { makeWorld } from './world.ts';

describe('our own search of a world', () => {
  it('keeps every limit, tells chances between nought and one, and ends where it says', async () => {
    const said: Said[] = [];
    const world = makeWorld(3);
    const standings = play(world, ourSearch(await loadSolver(), said), [8, 12]);
    expect(standings.map(({ mixes }) => mixes)).toEqual([8, 12]);
    expect(said).toHaveLength(2);
    const { rows, limits } = halfSpacesOf(world.space);
    for (const { recipe, chance } of said.flatMap(({ best, proposals }) => [best, ...proposals])) {
      expect(chance).toBeGreaterThanOrEqual(0);
      expect(chance).toBeLessThanOrEqual(1);
      rows.forEach((row, r) => {
        const value = row.reduce((sum, c, i) => sum + c * recipe.shares[i]!, 0);
        expect(value).toBeLessThanOrEqual(limits[r]! + 1e-9);
      });
    }
    expect(standings[1]!.recommended).toEqual(said[1]!.best.recipe);
  });

  it('pours a mix again out of its own bottle: more cups, no more grams', () => {
    const again: Method = {
      ...oneAtATime,
      propose: (evidence, count, stream) =>
        evidence.made.length === 0
          ? oneAtATime.propose(evidence, count, stream)
          : evidence.made.slice(0, count).map((one) => ({ ...one, again: one.mix })),
    };
    const [first, second] = play(makeWorld(3), again, [8, 12]);
    expect(second!.grams).toBe(first!.grams);
    expect(second!.cups).toBeGreaterThan(first!.cups);
  });
});

describe('the tables of the bench', () => {
  it('give exact bands for each bin of chances', () => {
    const told = (chance: number, matches: boolean) => ({ where: 'best' as const, chance, matches });
    const table = chanceTable([
      ...Array.from({ length: 10 }, () => told(0.05, false)),
      ...Array.from({ length: 4 }, (_, i) => told(0.85, i < 3)),
    ]);
    // none of ten: 1 - 0.005^(1/10); three of four by SciPy, binomtest(3, 4).proportion_ci(0.99)
    expect(table[2]).toBe('| 0–10 | 10 | 5.0 | 0.0 | 0.0 to 41.1 | 0.0 |');
    expect(table[10]).toBe('| 80–90 | 4 | 85.0 | 75.0 | 11.1 to 99.9 | 0.0 |');
  });

  it('pair our excess with a baseline’s, with a 95 % interval by hand', () => {
    const world = (seed: number, ours: number, other: number): WorldResult => {
      const standing = (excess: number) =>
        [8, 12, 16, 20].map((mixes) => {
          return { mixes, cups: 6 * mixes, grams: 4 * mixes, excess, atLarge: null, matches: false };
        });
      return {
        seed,
        reference: false,
        ...{ family: 'x', attainable: true, components: 3, attributes: 4, bestDistance: 0 },
        ...{ chances: [], stops: [], milliseconds: [] },
        standings: { dropwise: standing(ours), plain: standing(other) },
      };
    };
    const lines = searchTables([world(1, 2, 4), world(2, 6, 7), world(3, 1, 4)]);
    expect(lines[2]).toMatch(/^\| dropwise \| 3\.00 \| 3\.00 .*\| 67 % \| 8 \| 1 of 3 \|/);
    // differences -2, -1, -3: mean -2, standard error 1/√3, Student's 4.303 on 2 degrees of freedom
    expect(lines.at(-1)).toBe(`| plain |${' -2.00 (-4.48 to 0.48) |'.repeat(4)}`);
  });
});
