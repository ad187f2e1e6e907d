import { fitted, widthOf } from './names.ts';

/** A mark that may bear its name, in pixels from the upper left corner of the picture. */
export interface NamedMark {
  name: string;
  px: number;
  py: number;
}

/** Where a name goes beside its mark. */
interface Beside {
  dx: number;
  dy: number;
  align: 'left' | 'right';
}

const LINE = 13;
const LONGEST = 110;
const SIDES: readonly Beside[] = [
  { dx: 8, dy: -8, align: 'left' },
  { dx: -8, dy: -8, align: 'right' },
  { dx: 8, dy: 9, align: 'left' },
  { dx: -8, dy: 9, align: 'right' },
];

interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/**
 * Puts a name beside each mark where it covers no other name and does not leave the picture. Marks come in the order
 * of their weight: the later ones for which no side is free go without; tooltip and table still name them. Long names are
 * shortened.
 * @param standing words that stand already, each about its middle
 */
export function namesBeside<M extends NamedMark>(
  marks: readonly M[],
  size: { width: number; height: number },
  standing: readonly NamedMark[] = [],
): (M & Beside)[] {
  const taken: Box[] = standing.map(aboutMiddle);
  return marks.flatMap((mark) => {
    for (const side of SIDES) {
      const box = boxOf(mark, side);
      const inside = box.left >= -4 && box.right <= size.width + 4 && box.top >= -4;
      if (!inside || box.bottom > size.height + 4 || taken.some((other) => overlap(box, other))) continue;
      taken.push(box);
      return [{ ...mark, name: fitted(mark.name, LONGEST - 6), ...side }];
    }
    return [];
  });
}

function aboutMiddle({ name, px, py }: NamedMark): Box {
  const half = widthOf(name) / 2;
  return { left: px - half, right: px + half, top: py - LINE / 2, bottom: py + LINE / 2 };
}

function boxOf({ name, px, py }: NamedMark, { dx, dy, align }: Beside): Box {
  const wide = Math.min(LONGEST, widthOf(name));
  const x = px + dx;
  const y = py + dy;
  const left = align === 'left' ? x : x - wide;
  return { left, right: left + wide, top: y - LINE / 2, bottom: y + LINE / 2 };
}

function overlap(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** The mark of names so placed. */
export const NAME_MARK = {
  type: 'text',
  fontSize: 12,
  limit: LONGEST,
  dx: { expr: 'datum.dx' },
  dy: { expr: 'datum.dy' },
  align: { expr: 'datum.align' },
} as const;
