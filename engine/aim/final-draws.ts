import { comparesWithRegion } from '../model/chance.ts';
import type { PanelPosterior, Point, ScoreDraws } from '../model/posterior-types.ts';
import { createRandom } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';

/** A chance is then good to a point of a hundred. */
const DRAWS = 2000;

/**
 * The draws behind chances that are told. What is aimed at by numbers, ranges or the reference is drawn for each
 * point by itself, always from the same random numbers: the chance of a ratio is then the same number wherever it
 * is told, whatever stands beside it. Most and least need the region in the same draw.
 *
 * @param cover points spread over the region, which `most` and `least` are compared with in each draw; they follow
 *   the points asked for
 */
export function finalDraws(
  points: readonly Point[],
  by: {
    attributes: readonly Attribute[];
    posterior: PanelPosterior;
    cover: readonly Point[];
    seed: number;
  },
): ScoreDraws {
  const { attributes, posterior, cover, seed } = by;
  const drawn = (these: readonly Point[]) => posterior.draws(these, DRAWS, createRandom(seed, 'chance'));
  if (comparesWithRegion(attributes)) return drawn([...points, ...cover]);
  const alone = points.map((point) => drawn([point]));
  return {
    count: DRAWS,
    points: points.length,
    scores: attributes.map((_, k) =>
      Float64Array.from({ length: DRAWS * points.length }, (_, j) => {
        return alone[j % points.length]!.scores[k]![Math.floor(j / points.length)]!;
      }),
    ),
    reference: alone[0]?.reference ?? attributes.map(() => null),
  };
}
