/** What was, what is, and what was taken back. */
export interface History<T> {
  past: readonly T[];
  now: T;
  future: readonly T[];
  /** Changes under one label in a row are taken back as one. */
  label: string;
}

const MOST = 200;

export function historyOf<T>(now: T): History<T> {
  return { past: [], now, future: [], label: '' };
}

/** A change; typing on in the same field adds to the last one. */
export function changed<T>(history: History<T>, now: T, label: string): History<T> {
  if (now === history.now) return history;
  const goesOn = label !== '' && label === history.label;
  const past = goesOn ? history.past : [...history.past, history.now].slice(-MOST);
  return { past, now, future: [], label };
}

export function undone<T>(history: History<T>): History<T> {
  const before = history.past.at(-1);
  if (before === undefined) return history;
  return {
    past: history.past.slice(0, -1),
    now: before,
    future: [history.now, ...history.future],
    label: '',
  };
}

export function redone<T>(history: History<T>): History<T> {
  const [after, ...rest] = history.future;
  if (after === undefined) return history;
  return { past: [...history.past, history.now], now: after, future: rest, label: '' };
}
