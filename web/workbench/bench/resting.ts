import type { RoundView } from '../../../trials/schema/api.ts';
import { fewOf } from '../numbers.ts';

/** A bottle and how long it has stood. Hours; null where it is not weighed yet. */
export interface Resting {
  blend: string;
  weighedAt: string | null;
  hours: number | null;
  left: number | null;
}

/** How long each bottle of a round has stood at a moment. */
export function restingOf(round: RoundView, now: number): Resting[] {
  const bottles = new Map<string, Resting>();
  for (const { blend, weighedAt, again } of round.mixes) {
    if (again || bottles.has(blend)) continue;
    const hours = weighedAt === null ? null : Math.max(0, (now - Date.parse(weighedAt)) / 3_600_000);
    const left = hours === null ? null : Math.max(0, round.restHours - hours);
    bottles.set(blend, { blend, weighedAt, hours, left });
  }
  return [...bottles.values()];
}

/** Mixes of a round should be equally old when tasted: the spread, and whether it is more than a tenth of the rest. */
export function ageSpread(
  resting: readonly Resting[],
  restHours: number,
): { hours: number; uneven: boolean } {
  const ages = resting.flatMap(({ hours }) => (hours === null ? [] : [hours]));
  if (ages.length < 2) return { hours: 0, uneven: false };
  const hours = Math.max(...ages) - Math.min(...ages);
  return { hours, uneven: hours > 0.1 * Math.max(1, restHours) };
}

/** `2 d 3 h`, `5 h 20 min`, `12 min`. */
export function duration(hours: number): string {
  const minutes = Math.round(hours * 60);
  if (minutes < 60) return `${minutes} min`;
  if (minutes < 48 * 60) return inTwo(Math.floor(minutes / 60), 'h', minutes % 60, 'min');
  return inTwo(Math.floor(minutes / 1440), 'd', Math.floor((minutes % 1440) / 60), 'h');
}

function inTwo(large: number, unit: string, small: number, smaller: string): string {
  return small === 0 ? `${large} ${unit}` : `${large} ${unit} ${small} ${smaller}`;
}

/**
 * What is still missing before all bottles have rested, in a sentence; null where nothing is. Only said: what could not
 * wait is tasted all the same.
 */
export function restMissing(resting: readonly Resting[], restHours: number): string | null {
  const unweighed = resting.filter(({ hours }) => hours === null).map(({ blend }) => blend);
  const young = resting.filter(({ left }) => left !== null && left > 0);
  if (unweighed.length === 0 && young.length === 0) return null;
  const longest = Math.max(0, ...young.map(({ left }) => left ?? 0));
  const bottles =
    young.length === resting.length
      ? 'No bottle has stood'
      : `${fewOf(named(young))} ${young.length === 1 ? 'has' : 'have'} not stood`;
  const most = young.length > 1 ? ' at the most' : '';
  return [
    ...(young.length === 0
      ? []
      : [`${bottles} for ${whole(restHours)} yet: ${whole(longest)}${most} are missing.`]),
    ...(unweighed.length === 0
      ? []
      : [`${fewOf(unweighed)} ${unweighed.length === 1 ? 'is' : 'are'} not weighed yet.`]),
    'You can go on all the same: how old each bottle was stays on record, and the reading tells.',
  ].join(' ');
}

/** Without its zeros: `24 h`. */
function whole(hours: number): string {
  return duration(hours).replace(/ 0 (min|h)$/, '');
}

function named(young: readonly Resting[]): string[] {
  const names = young.map(({ blend }) => blend);
  return names.length > 4 ? [...names.slice(0, 4), `${names.length - 4} more`] : names;
}
