import type { FitInput } from '../model/fit-types.ts';
import { buildPosterior } from '../model/posterior.ts';
import type { PanelPosterior } from '../model/posterior-types.ts';
import { coverPoints } from '../model/process/process-cover.ts';
import { posteriorOfProcesses, processModels } from '../model/process/process-posterior.ts';
import { createRandom } from '../numeric/random.ts';
import type { Names } from '../region/limits.ts';
import { type Judged, judgedAttributes } from './judged.ts';
import { posteriorKnowingTarget } from './reachable-target.ts';

/** What the search goes by. */
export interface AimPosterior {
  /** Its draws know that the target can probably be met. */
  posterior: PanelPosterior;
  judged: Judged;
}

/** Points spread over the region, among which the target is looked for. */
const EVERYWHERE = 400;

/**
 * The one place from which chances of a match come, in a search and beside it: a Gaussian process unless a sum of
 * terms is asked for, with draws that know of the target. The process works from the first mix on, and its chances were
 * measured to hold; in the average of `predict` the sums of terms spread the draws so far that chances near the target
 * are told too low (`docs/aim-notes.md`). How far the averaged models disagree is worked out when asked.
 *
 * @param everywhere how many points the target is looked for among; default 400
 */
export function aimPosterior(
  input: FitInput & { names: Names; seed: number },
  everywhere = EVERYWHERE,
): AimPosterior {
  const byProcess = input.model === 'process' || input.model === 'auto';
  const processes = byProcess ? processModels(input) : undefined;
  const plain = processes
    ? posteriorOfProcesses(processes, input, { search: true })
    : buildPosterior(input, { search: true });
  const judged = judgedAttributes(input.attributes, plain, input);
  const places = coverPoints(input.space, input.region, everywhere);
  const random = createRandom(input.seed, 'everywhere');
  const knowing = posteriorKnowingTarget(plain, judged.attributes, places, random);
  if (input.model !== 'auto') return { posterior: knowing, judged };
  const betweenModels: PanelPosterior['betweenModels'] = (points) =>
    buildPosterior(input, { search: true }, processes).betweenModels(points);
  return { posterior: { ...knowing, betweenModels }, judged };
}
