import { isAnalysed } from './cups.ts';
import type { Attribute, Serving } from './observations.ts';

/** Fewer equal answers than this may be chance. */
const ENOUGH = 6;
const MOST_NAMED = 10;

/**
 * Ballots that look filled in without tasting: one assessor's cups that carry one score on every question, two
 * assessors with the very same scores throughout, and one assessor whose replicates repeat each other to the digit.
 * Only warnings: nobody is dropped.
 */
export function suspectBallots(servings: readonly Serving[], attributes: readonly Attribute[]): string[] {
  const tasted = servings.filter(isAnalysed);
  const byAssessor = groupBy(tasted, (s) => s.assessor);
  const found = [
    ...[...byAssessor].flatMap(([name, own]) => straightLines(name, own, attributes.length)),
    ...copiedBetween(byAssessor),
    ...[...byAssessor].flatMap(([name, own]) => copiedReplicates(name, own)),
  ];
  return found.length > MOST_NAMED
    ? [...found.slice(0, MOST_NAMED), `and ${found.length - MOST_NAMED} more suspect ballots`]
    : found;
}

/** Cups whose three or more answers are all the same, when they are at least half of an assessor's. */
function straightLines(name: string, own: readonly Serving[], questions: number): string[] {
  if (questions < 3) return [];
  const answered = own.map((s) => s.scores.filter((v) => v !== null)).filter((v) => v.length >= 3);
  const flat = answered.filter((v) => v.every((score) => score === v[0])).length;
  if (flat < 2 || flat * 2 < answered.length) return [];
  return [`${name} gave one score to every question in ${flat} of ${answered.length} cups`];
}

function copiedBetween(byAssessor: ReadonlyMap<string, readonly Serving[]>): string[] {
  const printed = groupBy([...byAssessor], ([, own]) => fingerprint(own, cupName));
  return [...printed.values()]
    .filter((group) => group.length > 1 && tellsSomething(group[0]![1]))
    .map((group) => `${group.map(([name]) => name).join(' and ')} gave exactly the same scores in every cup`);
}

function copiedReplicates(name: string, own: readonly Serving[]): string[] {
  const rounds = [...groupBy(own, (s) => `${s.session ?? ''}\u0000${s.replicate ?? ''}`)];
  const printed = groupBy(rounds, ([, cups]) => fingerprint(cups, (s) => s.mix));
  return [...printed.values()]
    .filter((group) => group.length > 1 && tellsSomething(group[0]![1]))
    .map(() => `${name} gave exactly the same scores again when tasting the same mixes again`);
}

function cupName(s: Serving): string {
  return `${s.mix}\u0000${s.session ?? ''}\u0000${s.replicate ?? ''}`;
}

function fingerprint(cups: readonly Serving[], nameOf: (s: Serving) => string): string {
  return cups
    .map((s) => `${nameOf(s)}\u0001${s.scores.join()}`)
    .sort()
    .join('\u0002');
}

/** Enough answers that are not all alike, over two mixes or more. */
function tellsSomething(cups: readonly Serving[]): boolean {
  const scores = cups.flatMap((s) => s.scores.filter((v) => v !== null));
  return scores.length >= ENOUGH && new Set(scores).size > 2 && new Set(cups.map((s) => s.mix)).size > 1;
}

function groupBy<T>(items: readonly T[], key: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const group = groups.get(key(item));
    if (group) group.push(item);
    else groups.set(key(item), [item]);
  }
  return groups;
}
