import { useCallback, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { Refusal } from './server.ts';

/** What a page knows of something it asked for. */
export type Loaded<T> =
  | { state: 'loading' }
  | { state: 'here'; value: T }
  | { state: 'refused'; refusal: Refusal }
  | { state: 'failed'; message: string };

/** Turns what was thrown into a state that a page can show. */
export function troubleOf(thrown: unknown): Exclude<Loaded<never>, { state: 'loading' | 'here' }> {
  if (thrown instanceof Refusal) return { state: 'refused', refusal: thrown };
  return { state: 'failed', message: thrown instanceof Error ? thrown.message : String(thrown) };
}

/**
 * Loads something whenever `key` changes; a late answer to an old question is dropped.
 * @param keeps whether the old answer stays until the new one is here
 */
export function useLoaded<T>(
  key: string,
  load: () => Promise<T>,
  { keeps = false } = {},
): [Loaded<T>, () => void] {
  const [loaded, setLoaded] = useState<Loaded<T>>({ state: 'loading' });
  const asked = useRef(0);
  const start = useCallback(() => {
    const turn = ++asked.current;
    const settle = (next: Loaded<T>) => asked.current === turn && setLoaded(next);
    load().then(
      (value) => settle({ state: 'here', value }),
      (thrown: unknown) => settle(troubleOf(thrown)),
    );
  }, [key]);
  // asked at once, not after the page was painted: the answer is what the page waits for
  useLayoutEffect(() => {
    setLoaded((before) => (keeps && before.state === 'here' ? before : { state: 'loading' }));
    start();
    return () => {
      asked.current += 1;
    };
  }, [start]);
  return [loaded, start];
}
