import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { independentColumns } from '../../../engine/numeric/least-squares.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import { mixColumns } from '../../../engine/panel/mix-columns.ts';
import { ownColumns } from '../../../engine/panel/own-columns.ts';

describe('columns beside the mixes', () => {
  it('are kept as Gram and Schmidt keep them behind one indicator a mix', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 1, max: 4 }),
        fc.array(fc.constantFrom('noise', 'by mix', 'sum', 'zero', 'constant'), { maxLength: 6 }),
        (seed, mixes, each, kinds) => {
          const random = createRandom(seed, 'own columns');
          const mixOf = Int32Array.from({ length: mixes * each }, (_, i) => i % mixes);
          const cups = { mixes: Array.from({ length: mixes }, (_, m) => `m${m + 1}`), mixOf };
          const levels = Array.from({ length: mixes }, () => 50 * random.normal());
          const columns: Float64Array[] = [];
          for (const kind of kinds) {
            const [a, b] = [columns.at(-1), columns.at(-2)];
            columns.push(
              Float64Array.from(mixOf, (m, i) => {
                if (kind === 'noise') return random.normal();
                if (kind === 'by mix') return levels[m]!;
                if (kind === 'sum') return (a?.[i] ?? 0) - 3 * (b?.[i] ?? 0) + levels[m]!;
                return kind === 'zero' ? 0 : 7;
              }),
            );
          }
          const p = mixes + columns.length;
          const all = new Float64Array(mixOf.length * p);
          mixColumns(cups).forEach((v, at) => {
            all[Math.floor(at / mixes) * p + (at % mixes)] = v;
          });
          columns.forEach((column, c) => {
            column.forEach((v, i) => {
              all[i * p + mixes + c] = v;
            });
          });
          const expected = independentColumns(all, mixOf.length, p, 1e-9)
            .filter((j) => j >= mixes)
            .map((j) => j - mixes);
          expect(ownColumns(cups, columns)).toEqual(expected);
        },
      ),
      { seed: 5, numRuns: 200 },
    );
  });
});
