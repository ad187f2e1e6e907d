const acts: (() => unknown)[] = [];

/** Has this done when the test file that runs has ended, the last asked for first. */
export function atFileEnd(act: () => unknown): void {
  acts.push(act);
}

/** Does all of it; called once a file by `tidy-up.ts`, since test files share the modules of their worker. */
export async function endFile(): Promise<void> {
  for (const act of acts.splice(0).reverse()) await act();
}
