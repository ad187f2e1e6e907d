import { fitRatios } from '../../../engine/model/fit-ratios.ts';
import type { AttributeFit, RatioFit } from '../../../engine/model/fit-types.ts';
import { fitCumulativeLink, type OrdinalFit } from '../../../engine/panel/ordinal/cumulative-link.ts';
import { type MixtureLesson, WINE } from '../../../trials/teaching/published.ts';

/** A published mixture experiment as this program reads it. */
export interface LessonReading {
  fit: AttributeFit;
  /** The blend with the highest fitted value on a grid of whole percents. */
  best: { shares: readonly [number, number, number]; value: number };
}

/** Fits pairs of components to a lesson's runs; one instrument or panel average is one assessor. */
export function readLesson({ components, runs }: MixtureLesson): LessonReading {
  const names = [...new Set(runs.map(({ shares }) => shares.join(' ')))];
  const mixes = names.map((mix) => ({ mix, blend: mix, shares: mix.split(' ').map(Number), settings: [] }));
  const servings = runs.map(({ shares, value }, k) => ({
    mix: shares.join(' '),
    assessor: 'one',
    session: null,
    replicate: String(k),
    position: null,
    scores: [value],
  }));
  const read: RatioFit = fitRatios({
    space: { components: components.map(({ id }) => ({ id, low: 0, high: 1 })), bounds: [], settings: [] },
    region: { centroid: [1 / 3, 1 / 3, 1 / 3], low: [0, 0, 0], high: [1, 1, 1] },
    mixes,
    servings,
    attributes: [{ id: 'value', scale: null, target: null, tolerance: 0, weight: 1 }],
    model: 'quadratic',
  });
  const fit = read.attributes[0]!;
  return { fit, best: bestOf(fit) };
}

function bestOf({ coefficients }: AttributeFit): LessonReading['best'] {
  let best: LessonReading['best'] = { shares: [1, 0, 0], value: Number.NEGATIVE_INFINITY };
  for (let a = 0; a <= 100; a++)
    for (let b = 0; a + b <= 100; b++) {
      const shares = [a / 100, b / 100, (100 - a - b) / 100] as const;
      const at: Record<string, number> = { x1: shares[0], x2: shares[1], x3: shares[2] };
      const value = coefficients.reduce(
        (sum, { term, estimate }) =>
          sum + term.split('*').reduce((product, id) => product * at[id]!, estimate),
        0,
      );
      if (value > best.value) best = { shares, value };
    }
  return best;
}

/** The wine ratings as this program reads them: what warmth and skins do, judges held apart. */
export function readWine(): OrdinalFit {
  const rows = WINE.ratings.flatMap((text, judge) =>
    [...text].map((rating, bottle) => ({ rating: Number(rating), judge, ...WINE.bottles[bottle]! })),
  );
  return fitCumulativeLink({
    y: Int32Array.from(rows, ({ rating }) => rating),
    x: Float64Array.from(rows.flatMap(({ warm, skins }) => [Number(warm), Number(skins)])),
    names: ['warm', 'skins'],
    assessor: { levels: Int32Array.from(rows, ({ judge }) => judge), count: WINE.ratings.length },
  });
}
