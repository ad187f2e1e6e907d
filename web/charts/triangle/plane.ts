/** A point of the picture: x to the right, y up. */
export type Point = readonly [x: number, y: number];

/** Shares of the three components of a triangle: of the top, the left and the right corner. */
export type Three = readonly [top: number, left: number, right: number];

/** Height of a triangle of side 1. */
export const HEIGHT = Math.sqrt(3) / 2;

/**
 * The upright triangle that is drawn: at its corners one component is as high as the other two allow when they stand
 * at their lowest. `lows` and `size` are shares of the whole blend.
 */
export interface TriangleFrame {
  lows: Three;
  /** How far each component runs from its low to its corner. */
  size: number;
}

/** Where a ratio lies in the picture, whose left corner is (0, 0) and right corner (1, 0). */
export function toPoint(frame: TriangleFrame, shares: Three): Point {
  const top = (shares[0] - frame.lows[0]) / frame.size;
  const right = (shares[2] - frame.lows[2]) / frame.size;
  return [right + top / 2, top * HEIGHT];
}

/** The ratio at a point of the picture; the three shares sum to what the frame holds. */
export function toShares(frame: TriangleFrame, [x, y]: Point): Three {
  const top = y / HEIGHT;
  const right = x - top / 2;
  const { lows, size } = frame;
  return [lows[0] + top * size, lows[1] + (1 - top - right) * size, lows[2] + right * size];
}
