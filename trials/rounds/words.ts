/** `1 mix`, `2 mixes`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** A span of hours as people say it: `40 min`, `5 h`, `3 days`. */
export function spanOf(hours: number): string {
  if (hours < 1) return `${Math.max(0, Math.floor(hours * 60))} min`;
  if (hours < 72) return `${Math.floor(hours)} h`;
  return `${Math.floor(hours / 24)} days`;
}

/** `a, b and c`. */
export function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
