import { EngineError } from '../errors.ts';
import { checkScores } from '../panel/check-scores.ts';
import type { FitInput } from './fit-types.ts';

/** Shapes and finiteness; everything about the sense of the data is a status. */
export function checkInput({ space, region, mixes, servings, attributes }: FitInput): void {
  const q = space.components.length;
  for (const [name, list] of Object.entries({
    centroid: region.centroid,
    low: region.low,
    high: region.high,
  }))
    if (list.length !== q)
      throw new EngineError('bad-argument', `region.${name}`, list.length, `${q} shares`);
  mixes.forEach(({ shares, settings }, i) => {
    if (shares.length !== q || !shares.every(Number.isFinite))
      throw new EngineError('bad-argument', `mixes[${i}].shares`, shares, `${q} finite shares`);
    if (settings.length !== space.settings.length || !settings.every(Number.isFinite))
      throw new EngineError(
        'bad-argument',
        `mixes[${i}].settings`,
        settings,
        `${space.settings.length} numbers`,
      );
  });
  checkScores({ servings, attributes });
}
