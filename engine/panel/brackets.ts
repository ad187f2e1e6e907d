const MOST = 200;

/**
 * Largest sets of items of which no two are told apart (the maximal cliques; Bron and Kerbosch 1973). Unequal
 * numbers of cups can make the sets overlap in any way, so they are not taken as runs of neighbours.
 *
 * @param order the items, best first; sets come out in that order, and so do their members
 * @param apart whether two items are told apart
 * @returns sets of two or more, at most 200
 */
export function alikeGroups(order: readonly string[], apart: (a: string, b: string) => boolean): string[][] {
  const alike = order.map((a, i) => new Set(order.flatMap((b, j) => (i !== j && !apart(a, b) ? [j] : []))));
  const found: number[][] = [];
  const grow = (clique: number[], open: number[], closed: number[]) => {
    if (found.length >= MOST) return;
    if (open.length === 0) {
      if (closed.length === 0 && clique.length > 1) found.push([...clique].sort((a, b) => a - b));
      return;
    }
    const pivot = [...open, ...closed].reduce((best, v) =>
      common(alike[v]!, open) > common(alike[best]!, open) ? v : best,
    );
    let left = open;
    let done = closed;
    for (const v of open.filter((o) => !alike[pivot]!.has(o))) {
      const near = alike[v]!;
      grow(
        [...clique, v],
        left.filter((o) => near.has(o)),
        done.filter((c) => near.has(c)),
      );
      left = left.filter((o) => o !== v);
      done = [...done, v];
    }
  };
  grow([], [...order.keys()], []);
  return found.sort(byMembers).map((set) => set.map((i) => order[i]!));
}

function common(near: ReadonlySet<number>, open: readonly number[]): number {
  return open.filter((o) => near.has(o)).length;
}

function byMembers(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < Math.min(a.length, b.length); i++) if (a[i] !== b[i]) return a[i]! - b[i]!;
  return a.length - b.length;
}
