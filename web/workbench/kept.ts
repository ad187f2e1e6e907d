/** Small things kept on this computer between visits: drafts, how the maker likes to weigh. */
export function kept<T>(key: string): T | null {
  try {
    const text = localStorage.getItem(`dropwise:${key}`);
    return text === null ? null : (JSON.parse(text) as T);
  } catch {
    return null;
  }
}

/** Keeps a value, or forgets it where it is null. A browser that keeps nothing is no error. */
export function keep(key: string, value: unknown): void {
  try {
    if (value === null) localStorage.removeItem(`dropwise:${key}`);
    else localStorage.setItem(`dropwise:${key}`, JSON.stringify(value));
  } catch {
    // private mode: nothing is kept
  }
}
