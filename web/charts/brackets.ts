/** Two mixes and whether they can be told apart. */
export interface Pair {
  a: string;
  b: string;
  apart: boolean;
}

/**
 * The largest sets of mixes in which no two can be told apart (maximal cliques, Bron and Kerbosch 1973), so that two
 * mixes share a bracket exactly where they cannot be told apart. Sets of one are left out.
 * @param mixes names, in the order in which brackets list them
 */
export function brackets(mixes: readonly string[], pairs: readonly Pair[]): string[][] {
  const alike = new Map(mixes.map((mix) => [mix, new Set<string>()]));
  for (const { a, b, apart } of pairs) {
    if (apart) continue;
    alike.get(a)?.add(b);
    alike.get(b)?.add(a);
  }
  const found: string[][] = [];
  grow([], [...mixes], [], alike, found);
  const place = (mix: string | undefined) => mixes.indexOf(mix!);
  const ordered = found.map((set) => set.sort((a, b) => place(a) - place(b)));
  return ordered
    .filter((set) => set.length > 1)
    .sort((s, t) => place(s[0]) - place(t[0]) || place(s.at(-1)) - place(t.at(-1)));
}

function grow(
  chosen: readonly string[],
  open: readonly string[],
  closed: readonly string[],
  alike: ReadonlyMap<string, ReadonlySet<string>>,
  found: string[][],
): void {
  if (open.length === 0 && closed.length === 0) {
    found.push([...chosen]);
    return;
  }
  const common = (mix: string) => open.filter((other) => alike.get(mix)!.has(other)).length;
  const pivot = [...open, ...closed].reduce((best, mix) => (common(mix) > common(best) ? mix : best));
  let left = [...open];
  const out = [...closed];
  for (const mix of open.filter((one) => !alike.get(pivot)!.has(one))) {
    const near = alike.get(mix)!;
    grow(
      [...chosen, mix],
      left.filter((one) => near.has(one)),
      out.filter((one) => near.has(one)),
      alike,
      found,
    );
    left = left.filter((one) => one !== mix);
    out.push(mix);
  }
}
