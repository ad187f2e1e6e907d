import { coverFor } from '../model/chance.ts';
import type { PanelPosterior, Point, ScoreDraws } from '../model/posterior-types.ts';
import { createRandom } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';

/** A chance is then good to a point of a hundred. */
const DRAWS = 2000;

/**
 * The draws behind chances that are told. Each ratio is drawn without regard to the others, always from the same random
 * numbers: its chance is then the same number wherever it is told, whatever stands beside it. Most and least need the
 * region in the same draw.
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
  return posterior.drawsApart(
    { points, cover: coverFor(attributes, cover) },
    DRAWS,
    createRandom(seed, 'chance'),
  );
}
