import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { namesBeside } from '../../../web/charts/names-beside.ts';

const SIZE = { width: 600, height: 500 };
const mark = fc.record({
  name: fc.string({ minLength: 1, maxLength: 12 }),
  px: fc.double({ min: 0, max: SIZE.width, noNaN: true }),
  py: fc.double({ min: 0, max: SIZE.height, noNaN: true }),
});

/** Seven pixels a sign, at most 110; a line of thirteen. */
function boxOf({ name, px, py, dx, dy, align }: ReturnType<typeof namesBeside>[number]) {
  const wide = Math.min(110, 7 * name.length);
  const left = align === 'left' ? px + dx : px + dx - wide;
  return { left, right: left + wide, top: py + dy - 6.5, bottom: py + dy + 6.5 };
}

describe('names beside marks', () => {
  it('never lie over each other, nor out of the picture (property)', () => {
    fc.assert(
      fc.property(fc.array(mark, { maxLength: 60 }), (marks) => {
        const boxes = namesBeside(marks, SIZE).map(boxOf);
        boxes.forEach((a, i) => {
          expect(a.left >= -4 && a.right <= SIZE.width + 4).toBe(true);
          for (const b of boxes.slice(i + 1))
            expect(a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom).toBe(false);
        });
      }),
      { seed: 1, numRuns: 100 },
    );
  });

  it('stand at the first of two marks in one place, and at the other where a side is left', () => {
    const place = { px: 300, py: 250 };
    const five = ['m1', 'm2', 'm3', 'm4', 'm5'].map((name) => ({ name, ...place }));
    expect(namesBeside(five, SIZE).map(({ name }) => name)).toEqual(['m1', 'm2', 'm3', 'm4']);
  });

  it('keep off words that stand already', () => {
    const standing = [{ name: '40', px: 308, py: 242 }];
    expect(namesBeside([{ name: 'm1', px: 300, py: 250 }], SIZE, standing)).toMatchObject([
      { align: 'right', dy: -8 },
    ]);
  });

  it('turn to the left at the right edge', () => {
    expect(namesBeside([{ name: 'm12', px: 595, py: 250 }], SIZE)).toMatchObject([{ align: 'right' }]);
  });
});
