import { fitted } from '../names.ts';
import type { NamedMark } from '../names-beside.ts';
import type { ChartTheme } from '../theme.ts';
import { roundLevels } from './levels.ts';
import { type Ground, pixelOf } from './picture.ts';
import { HEIGHT, type Point, type Three, type TriangleFrame, toPoint } from './plane.ts';

const THIRDS = [0, 1, 2] as const;

/** Along which side each component is read: from where it is lowest to its own corner. */
const SIDES = [
  { from: 1, angle: -60, tick: [-1, 0] },
  { from: 2, angle: 0, tick: [0.5, -HEIGHT] },
  { from: 0, angle: 60, tick: [0.5, HEIGHT] },
] as const;

/** The three sides with their scales in parts of a hundred and the component's name along each. */
export function edgeLayers(
  frame: TriangleFrame,
  names: readonly [string, string, string],
  theme: ChartTheme,
  pixels: number,
) {
  const ticks = allTicks(frame, pixels);
  const corners: Point[] = [
    [0, 0],
    [1, 0],
    [0.5, HEIGHT],
    [0, 0],
  ];
  return [
    {
      data: { values: corners.map(([x, y], order) => ({ x, y, order })) },
      mark: { type: 'line', color: theme.edge, strokeWidth: 1 },
      encoding: { order: { field: 'order', type: 'quantitative' } },
    },
    {
      data: { values: ticks },
      mark: { type: 'rule', color: theme.edge },
      encoding: { x2: { field: 'x2' }, y2: { field: 'y2' } },
    },
    {
      data: { values: ticks },
      mark: { type: 'text', color: theme.soft, fontSize: 11 },
      encoding: { x: { field: 'tx' }, y: { field: 'ty' }, text: { field: 'label' } },
    },
    ...THIRDS.map((c) => nameLayer(c, names[c], theme, pixels)),
  ];
}

/** Words along the sides, which no other word may cover: the figures of the scales, and the names in pieces. */
export function edgeWords(
  frame: TriangleFrame,
  names: readonly [string, string, string],
  ground: Ground,
): NamedMark[] {
  const figures = allTicks(frame, ground.sidePixels).map(({ tx, ty, label }) => ({
    name: label,
    ...pixelOf(ground, [tx, ty]),
  }));
  return [...figures, ...THIRDS.flatMap((c) => piecesOf(c, names[c], ground))];
}

/** A name along a side, two signs a piece. */
function piecesOf(c: (typeof THIRDS)[number], name: string, ground: Ground): NamedMark[] {
  const text = `${name} →`;
  const { px, py } = pixelOf(ground, NAME_AT[c]!);
  const turn = (SIDES[c].angle * Math.PI) / 180;
  return Array.from({ length: Math.ceil(text.length / 2) }, (_, k) => {
    const along = 7.5 * (2 * k + 1 - text.length / 2);
    return { name: 'oo', px: px + along * Math.cos(turn), py: py + along * Math.sin(turn) };
  });
}

function allTicks(frame: TriangleFrame, pixels: number) {
  return THIRDS.flatMap((c) => ticksOf(frame, c, pixels < 320 ? 3 : 5));
}

function ticksOf(frame: TriangleFrame, c: (typeof THIRDS)[number], about: number) {
  const { from, tick } = SIDES[c];
  const low = 100 * frame.lows[c];
  const high = low + 100 * frame.size;
  return roundLevels(low, high, about)
    .filter((part) => part > low + 1e-9 && part < high - 1e-9)
    .map((part) => {
      const [x, y] = toPoint(frame, sharesOnSide(frame, c, from, part / 100));
      const reach = (by: number) => ({ x: x + by * tick[0], y: y + by * tick[1] });
      const end = reach(0.02);
      const label = reach(0.05);
      return { x, y, x2: end.x, y2: end.y, tx: label.x, ty: label.y, label: String(part) };
    });
}

/** On the side that runs from corner `from` to corner `c`, the third component is at its low. */
function sharesOnSide({ lows, size }: TriangleFrame, c: number, from: number, share: number): Three {
  return THIRDS.map((at) => {
    if (at === c) return share;
    return at === from ? lows[from]! + size - (share - lows[c]!) : lows[at];
  }) as unknown as Three;
}

/** Where the middle of each name stands. */
const NAME_AT: readonly Point[] = [
  [0.25 - 0.1, HEIGHT / 2 + 0.05],
  [0.5, -0.115],
  [0.75 + 0.1, HEIGHT / 2 + 0.05],
];

function nameLayer(c: (typeof THIRDS)[number], name: string, theme: ChartTheme, pixels: number) {
  const [x, y] = NAME_AT[c]!;
  const shown = fitted(name, pixels * 0.75 - 20);
  const text = c === 1 ? `← ${shown}` : `${shown} →`;
  return {
    data: { values: [{ x, y, name: text }] },
    mark: { type: 'text', angle: SIDES[c].angle, color: theme.ink, fontSize: 12.5, limit: pixels * 0.8 },
    encoding: { text: { field: 'name' } },
  };
}
