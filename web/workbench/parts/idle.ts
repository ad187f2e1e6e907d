/** Milliseconds to wait where a browser does not say when it is idle. */
const A_WHILE = 200;

/** Does something once the browser has nothing else to do. */
export function whenIdle(act: () => void): void {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(act);
  else setTimeout(act, A_WHILE);
}
