import type { ChartFrame } from '../theme.ts';
import { bandsOf } from './bands.ts';
import type { Mesh } from './mesh.ts';
import type { Point } from './plane.ts';

/** Values over a mesh as filled bands between levels, from the lightest shade of the one hue to the darkest. */
export function bandLayer(
  mesh: Mesh,
  values: readonly number[],
  levels: readonly number[],
  theme: ChartFrame['theme'],
) {
  const steps = levels.slice(0, -1).map(String);
  const shades = steps.map(
    (_, i) => theme.bands[Math.round((i * (theme.bands.length - 1)) / Math.max(1, steps.length - 1))]!,
  );
  const colour = { field: 'band', type: 'nominal', scale: { domain: steps, range: shades }, legend: null };
  return {
    data: {
      values: bandsOf(mesh, values, levels).flatMap(({ low, rings }) => path(rings, { band: String(low) })),
    },
    mark: { type: 'line', filled: true, strokeWidth: 0.6, interpolate: 'linear' },
    encoding: {
      order: { field: 'order', type: 'quantitative' },
      detail: { field: 'band' },
      fill: colour,
      stroke: colour,
    },
  };
}

/** The edge of what is allowed; nothing where nothing is. */
export function outlineLayer(outline: readonly Point[], color: string) {
  return {
    data: { values: outline.length === 0 ? [] : path([outline], { band: 'outline' }) },
    mark: { type: 'line', color, strokeWidth: 1.2 },
    encoding: { order: { field: 'order', type: 'quantitative' } },
  };
}

/** Rings as rows to be drawn in order, a row without a place between two rings. */
export function path(rings: readonly (readonly Point[])[], also: object): object[] {
  let order = 0;
  return rings.flatMap((ring, r) => {
    const closed = [...ring, ring[0]!].map(([x, y]) => ({ ...also, x, y, order: order++ }));
    return r === 0
      ? closed
      : [{ ...also, x: null, y: null, order: order++ - closed.length - 0.5 }, ...closed];
  });
}
