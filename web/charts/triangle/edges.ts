import type { ChartTheme } from '../theme.ts';
import { roundLevels } from './levels.ts';
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
  const ticks = THIRDS.flatMap((c) => ticksOf(frame, c, pixels < 320 ? 3 : 5));
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

function nameLayer(c: (typeof THIRDS)[number], name: string, theme: ChartTheme, pixels: number) {
  const middles: readonly Point[] = [
    [0.25 - 0.1, HEIGHT / 2 + 0.05],
    [0.5, -0.115],
    [0.75 + 0.1, HEIGHT / 2 + 0.05],
  ];
  const [x, y] = middles[c]!;
  const text = c === 1 ? `← ${name}` : `${name} →`;
  return {
    data: { values: [{ x, y, name: text }] },
    mark: { type: 'text', angle: SIDES[c].angle, color: theme.ink, fontSize: 12.5, limit: pixels * 0.8 },
    encoding: { text: { field: 'name' } },
  };
}
