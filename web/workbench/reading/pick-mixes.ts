import type { ReadingView } from './reading-view.ts';

/** So many mixes can still be read in one picture. */
export const AT_ONCE = 24;
export const NEAREST = 12;
/** Choices beside the numbers of rounds. */
export const NEAR = 'nearest';
export const ALL = 'all';

/**
 * Some of many mixes: the nearest to the target, those of one round, or all. The reference always stays.
 * @param ranked names, nearest to the target first
 */
export function pickedMixes(
  { trial }: Pick<ReadingView, 'trial'>,
  ranked: readonly string[],
  choice: string,
): string[] {
  if (choice === ALL) return [...ranked];
  const own = ranked.filter((mix) => mix !== 'reference');
  const made = trial.roundViews.find(({ round }) => String(round) === choice);
  const names = new Set(made === undefined ? own.slice(0, NEAREST) : made.mixes.map(({ mix }) => mix));
  return ranked.filter((mix) => mix === 'reference' || names.has(mix));
}

/** Brackets over the mixes that are shown: those of one mix, or that lie within another, say nothing. */
export function groupsAmong(groups: readonly (readonly string[])[], shown: ReadonlySet<string>): string[][] {
  const cut = groups.map((group) => group.filter((mix) => shown.has(mix))).filter(({ length }) => length > 1);
  const within = (group: readonly string[], other: readonly string[]) =>
    group.every((mix) => other.includes(mix));
  return cut.filter((group, i) =>
    cut.every((other, k) => k === i || !within(group, other) || (other.length === group.length && i < k)),
  );
}
