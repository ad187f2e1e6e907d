import type { PanelPosterior, Point } from '../../../engine/model/posterior-types.ts';

/** One attribute's score as a plane in the shares (and settings) with normal coefficients. */
export interface Plane {
  mean: readonly number[];
  /** Standard deviation of each coefficient; they are independent. */
  deviation: readonly number[];
  /** Curvature added to the mean, as a function of the point. */
  bend?: (point: Point) => number;
}

/** A posterior for tests whose every figure can be worked out by hand: independent normal planes. */
export function linearPosterior(
  planes: readonly Plane[],
  more: { mixVariance?: number; reference?: readonly ([number, number] | null)[] } = {},
): PanelPosterior {
  const coordinates = ({ shares, settings }: Point) => [...shares, ...settings];
  const meanAt = (plane: Plane, point: Point) =>
    coordinates(point).reduce((sum, x, j) => sum + x * plane.mean[j]!, plane.bend?.(point) ?? 0);
  const deviationAt = (plane: Plane, point: Point) =>
    Math.sqrt(coordinates(point).reduce((sum, x, j) => sum + (x * plane.deviation[j]!) ** 2, 0));
  return {
    attributes: planes.map((_, k) => ({ id: `a${k}`, status: 'estimated', reason: null, weights: [] })),
    mixVariance: planes.map(() => more.mixVariance ?? 16),
    predict: (points) =>
      planes.map((plane) => {
        const mean = Float64Array.from(points, (point) => meanAt(plane, point));
        const standardError = Float64Array.from(points, (point) => deviationAt(plane, point));
        return {
          mean,
          standardError,
          low: mean.map((m, i) => m - 1.96 * standardError[i]!),
          high: mean.map((m, i) => m + 1.96 * standardError[i]!),
        };
      }),
    draws: (points, count, random) => {
      const references = planes.map((_, k) => {
        const own = more.reference?.[k];
        const stream = random.fork(`reference ${k}`);
        return own ? Float64Array.from({ length: count }, () => own[0] + own[1] * stream.normal()) : null;
      });
      const scores = planes.map((plane, k) => {
        const stream = random.fork(`plane ${k}`);
        const out = new Float64Array(count * points.length);
        for (let s = 0; s < count; s++) {
          const off = plane.deviation.map((d) => d * stream.normal());
          points.forEach((point, i) => {
            const change = coordinates(point).reduce((sum, x, j) => sum + x * off[j]!, 0);
            out[s * points.length + i] = meanAt(plane, point) + change;
          });
        }
        return out;
      });
      return { count, points: points.length, scores, reference: references };
    },
  };
}
