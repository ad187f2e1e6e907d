import type { Cups } from './cups.ts';

/**
 * Sessions that share a mix (or the reference), directly or through others, in groups. More than one group means
 * that differences between their mixes cannot be told from differences between the evenings.
 */
export function linkedSessions(cups: Pick<Cups, 'sessions' | 'sessionOf' | 'mixOf'>): string[][] {
  const parent = cups.sessions.map((_, s) => s);
  const root = (s: number): number => (parent[s] === s ? s : root(parent[s]!));
  const seenIn = new Map<number, number>();
  cups.sessionOf.forEach((session, i) => {
    const earlier = seenIn.get(cups.mixOf[i]!);
    if (earlier === undefined) seenIn.set(cups.mixOf[i]!, session);
    else parent[root(session)] = root(earlier);
  });
  const groups = new Map<number, string[]>();
  cups.sessions.forEach((name, s) => {
    groups.set(root(s), [...(groups.get(root(s)) ?? []), name]);
  });
  return [...groups.values()];
}

/** The warning for sessions that nothing links; null where all hang together. */
export function unlinkedWarning(groups: readonly (readonly string[])[]): string | null {
  if (groups.length < 2) return null;
  const named = groups.map((group) => group.map((s) => (s === '' ? '(unnamed)' : `"${s}"`)).join(' with '));
  return (
    `no mix and no reference links the sessions ${named.join(' and ')}: what differs between them may be the ` +
    'evening or the mixes; pour the reference or one mix again in each'
  );
}
