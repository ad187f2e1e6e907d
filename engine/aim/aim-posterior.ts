import type { FitInput } from '../model/fit-types.ts';
import { buildPosterior } from '../model/posterior.ts';
import type { PanelPosterior } from '../model/posterior-types.ts';
import { coverPoints } from '../model/process/process-cover.ts';
import { processPosterior } from '../model/process/process-posterior.ts';
import { createRandom } from '../numeric/random.ts';
import type { Names } from '../region/limits.ts';
import { type Judged, judgedAttributes } from './judged.ts';
import { posteriorKnowingTarget } from './reachable-target.ts';

/** What the search goes by. */
export interface AimPosterior {
  /** Its means and intervals are those of `predict`; its draws know that the target can probably be met. */
  posterior: PanelPosterior;
  judged: Judged;
}

/** Points spread over the region, among which the target is looked for. */
const EVERYWHERE = 400;

/**
 * The one place from which chances of a match come, in a search and beside it: the averaged models of `predict`
 * (the process alone where there are fewer mixes than a sum of terms takes), with draws that know of the target.
 *
 * @param everywhere how many points the target is looked for among; default 400
 */
export function aimPosterior(
  input: FitInput & { names: Names; seed: number },
  everywhere = EVERYWHERE,
): AimPosterior {
  const plain =
    input.model === 'process'
      ? processPosterior(input, { search: true })
      : buildPosterior(input, { search: true });
  const judged = judgedAttributes(input.attributes, plain, input);
  const places = coverPoints(input.space, input.region, everywhere);
  const random = createRandom(input.seed, 'everywhere');
  return { posterior: posteriorKnowingTarget(plain, judged.attributes, places, random), judged };
}
