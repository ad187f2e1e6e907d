import { parse, View } from 'vega';
import { compile } from 'vega-lite';
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../engine/numeric/random.ts';
import { LIGHT } from '../../../web/charts/theme.ts';
import { bandsOf, hatch, piecesBetween, ringsOf } from '../../../web/charts/triangle/bands.ts';
import { roundLevels } from '../../../web/charts/triangle/levels.ts';
import { finenessFor, meshPolygon } from '../../../web/charts/triangle/mesh.ts';
import { type Point, toPoint, toShares } from '../../../web/charts/triangle/plane.ts';
import { sharesAt, sliceRegion } from '../../../web/charts/triangle/slice.ts';
import { triangleChart } from '../../../web/charts/triangle/triangle-chart.ts';
import { SPACE, THROUGH, triangleData } from './chart-cases.ts';

const THREE = [0, 1, 3] as const;
const { frame, outline } = sliceRegion(SPACE, THREE, THROUGH);

/** Twice the signed area of a ring (shoelace formula). */
function area(ring: readonly Point[]): number {
  return ring.reduce((sum, [x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length]!;
    return sum + x * v - u * y;
  }, 0);
}

function allowed(shares: readonly number[], slack: number): boolean {
  const within = SPACE.components.every(
    ({ low, high }, i) => shares[i]! >= low - slack && shares[i]! <= high + slack,
  );
  return within && shares[0]! + 0.2 * shares[3]! <= 0.53 + slack;
}

function inside(ring: readonly Point[], [x, y]: Point): boolean {
  return ring.every(([a, b], i) => {
    const [c, d] = ring[(i + 1) % ring.length]!;
    return (c - a) * (y - b) - (d - b) * (x - a) >= 0;
  });
}

describe('a slice', () => {
  it('holds exactly the ratios that the brief allows (two thousand random points)', () => {
    const random = createRandom(1);
    let held = 0;
    for (let i = 0; i < 2000; i++) {
      const point: Point = [random.uniform() * 1.4 - 0.2, random.uniform() * 1.2 - 0.2];
      const shares = sharesAt(frame, THREE, THROUGH, point);
      const isIn = inside(outline, point);
      if (isIn) held += 1;
      expect(isIn ? allowed(shares, 1e-9) : !allowed(shares, -1e-9)).toBe(true);
    }
    expect(held).toBeGreaterThan(200);
  });

  it('keeps the held component and the sum', () => {
    for (const corner of outline) {
      const shares = sharesAt(frame, THREE, THROUGH, corner);
      expect(shares[2]).toBe(THROUGH[2]);
      expect(shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
    }
  });

  it('takes points to ratios and back', () => {
    for (const corner of outline) {
      const back = toPoint(frame, toShares(frame, corner));
      expect(back[0]).toBeCloseTo(corner[0], 12);
      expect(back[1]).toBeCloseTo(corner[1], 12);
    }
  });

  it('is empty where the held components leave nothing that is allowed', () => {
    expect(sliceRegion(SPACE, THREE, [0.1, 0.1, 0.75, 0.05]).outline).toEqual([]);
  });
});

describe('a mesh', () => {
  const mesh = meshPolygon(outline, 7);

  it('covers the polygon exactly, without gaps or overlaps', () => {
    const pieces = mesh.triangles.map((t) => area(t.map((i) => mesh.points[i]!)));
    expect(Math.min(...pieces)).toBeGreaterThan(0);
    expect(pieces.reduce((a, b) => a + b, 0)).toBeCloseTo(area(outline), 12);
  });

  it('asks for no ratio outside what is allowed', () => {
    for (const point of mesh.points) expect(allowed(sharesAt(frame, THREE, THROUGH, point), 1e-9)).toBe(true);
  });

  it('shares corners between neighbours: 1 + sides · n(n+1)/2 points', () => {
    expect(mesh.points).toHaveLength(1 + (outline.length * 7 * 8) / 2);
    expect(finenessFor(outline.length, mesh.points.length)).toBe(7);
    expect(finenessFor(outline.length, mesh.points.length - 1)).toBe(6);
  });
});

describe('bands', () => {
  const mesh = meshPolygon(outline, 7);
  const plane = mesh.points.map(([x, y]) => 3 * x + 2 * y);
  const levels = [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5];

  it('add up to the whole', () => {
    const areas = bandsOf(mesh, plane, levels).map(({ rings }) =>
      rings.reduce((sum, ring) => sum + area(ring), 0),
    );
    expect(areas.reduce((a, b) => a + b, 0)).toBeCloseTo(area(outline), 9);
  });

  it('of a plane are one strip each, cut where the plane has the level', () => {
    for (const { low, high, rings } of bandsOf(mesh, plane, levels)) {
      expect(rings).toHaveLength(1);
      for (const [x, y] of rings[0]!) {
        expect(3 * x + 2 * y).toBeGreaterThan(low - 1e-9);
        expect(3 * x + 2 * y).toBeLessThan(high + 1e-9);
      }
    }
  });

  it('leave a hole open where the surface rises inside', () => {
    const square: Point[] = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ];
    const fine = meshPolygon(square, 10);
    const cone = fine.points.map(([x, y]) => Math.hypot(x - 0.5, y - 0.5));
    const [band] = bandsOf(fine, cone, [0.2, 0.4]);
    expect(band!.rings).toHaveLength(2);
    const signs = band!.rings.map((ring) => Math.sign(area(ring)));
    expect(signs.sort()).toEqual([-1, 1]);
    const ring = Math.abs(band!.rings.reduce((sum, one) => sum + area(one), 0)) / 2;
    expect(Math.abs(ring - Math.PI * (0.4 ** 2 - 0.2 ** 2))).toBeLessThan(0.01);
  });

  it('keep all of a flat surface in the band that holds it', () => {
    const flat = bandsOf(
      mesh,
      mesh.points.map(() => 5),
      [4, 6],
    );
    expect(flat).toHaveLength(1);
    expect(
      ringsOf(
        piecesBetween(
          mesh,
          mesh.points.map(() => 5),
          4,
          6,
        ),
      ),
    ).toHaveLength(1);
  });

  it('are hatched from side to side: strokes at the slant, evenly apart', () => {
    const pieces = piecesBetween(mesh, plane, 0.5, 1.5);
    const strokes = hatch(pieces, 0.05, 1);
    expect(strokes.length).toBeGreaterThan(10);
    for (const [[x, y], [u, v]] of strokes) {
      const k = (y - x) / 0.05;
      expect(Math.abs(k - Math.round(k))).toBeLessThan(1e-9);
      expect(v - u).toBeCloseTo(y - x, 9);
    }
  });
});

describe('the drawn triangle', () => {
  const data = triangleData();
  const spec = triangleChart(data, { width: 640, theme: LIGHT });

  it('has contours only through points whose value is that of the level, by the mesh the engine was asked at', async () => {
    const view = new View(parse(compile(spec).spec), { renderer: 'none' });
    await view.runAsync();
    const layer = (
      spec as unknown as { layer: { data: { values: { band: string; x: number | null; y: number }[] } }[] }
    ).layer[0]!;
    const rows = layer.data.values.filter(({ x }) => x !== null);
    expect(rows.length).toBeGreaterThan(50);
    const levels = roundLevels(Math.min(...data.means), Math.max(...data.means), LIGHT.bands.length);
    for (const { band, x, y } of rows) {
      const value = 50 + 30 * x! + 10 * y;
      const low = Number(band);
      const high = levels[levels.indexOf(low) + 1]!;
      expect(value).toBeGreaterThan(low - 1e-9);
      expect(value).toBeLessThan(high + 1e-9);
    }
    view.finalize();
  });

  it('draws one unit equally long both ways', () => {
    const { width, height, encoding } = spec as unknown as {
      width: number;
      height: number;
      encoding: Record<'x' | 'y', { scale: { domain: [number, number] } }>;
    };
    const across = width / (encoding.x.scale.domain[1] - encoding.x.scale.domain[0]);
    const down = height / (encoding.y.scale.domain[1] - encoding.y.scale.domain[0]);
    expect(Math.abs(across / down - 1)).toBeLessThan(0.01);
  });

  it('shows a ring for each pour, at most four', () => {
    const poured = triangleChart(
      { ...data, mixes: [{ ...data.mixes[0]!, pours: 9 }] },
      { width: 640, theme: LIGHT },
    );
    const layers = (
      poured as unknown as { layer: { data: { values: { pours?: number; size?: number }[] } }[] }
    ).layer;
    const rings = layers.find(({ data: { values } }) => values[0]?.size !== undefined)!;
    expect(rings.data.values).toHaveLength(4);
  });
});

describe('round levels', () => {
  it('span what is shown in steps of 1, 2, 2.5 or 5', () => {
    expect(roundLevels(41.2, 58.7, 7)).toEqual([40, 42.5, 45, 47.5, 50, 52.5, 55, 57.5, 60]);
    expect(roundLevels(0, 1, 5)).toEqual([0, 0.2, 0.4, 0.6, 0.8, 1]);
    expect(roundLevels(3, 3, 5)).toEqual([2.5, 3.5]);
  });
});
