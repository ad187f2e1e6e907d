import { HEIGHT, type Point } from './plane.ts';

const SIDE = 0.16;
const BELOW = 0.15;
const ABOVE = 0.08;

/** The ground on which a triangle is drawn, with room around it for scales, names and mixes that lie off it. */
export interface Ground {
  width: number;
  height: number;
  /** Pixels along one side of the triangle. */
  sidePixels: number;
  encoding: object;
}

/** @param width pixels across; one unit is equally long both ways */
export function groundOf(width: number): Ground {
  const axis = { type: 'quantitative', axis: null };
  const scale = (from: number, to: number) => ({ domain: [from, to], nice: false, zero: false });
  return {
    width,
    height: Math.round((width * (HEIGHT + BELOW + ABOVE)) / (1 + 2 * SIDE)),
    sidePixels: width / (1 + 2 * SIDE),
    encoding: {
      x: { field: 'x', ...axis, scale: scale(-SIDE, 1 + SIDE) },
      y: { field: 'y', ...axis, scale: scale(-BELOW, HEIGHT + ABOVE) },
    },
  };
}

/** Where a point lies in pixels from the upper left corner. */
export function pixelOf({ sidePixels }: Ground, [x, y]: Point): { px: number; py: number } {
  return { px: (x + SIDE) * sidePixels, py: (HEIGHT + ABOVE - y) * sidePixels };
}

/** A mix so far off the triangle that there is no room for it is left out. */
export function isShown({ x, y }: { x: number; y: number }): boolean {
  return x > -0.12 && x < 1.12 && y > -0.1 && y < HEIGHT + 0.06;
}
