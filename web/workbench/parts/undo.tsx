import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';

interface Undoable {
  says: string;
  undo: () => void | Promise<void>;
}

const last = signal<Undoable | null>(null);

/** Tells what was just done and offers to take it back, for as long as nothing else is done. */
export function offerUndo(says: string, undo: () => void | Promise<void>): void {
  last.value = { says, undo };
}

/** Nothing to take back any more, as after leaving a trial. */
export function forgetUndo(): void {
  last.value = null;
}

/** Takes back what was done last, if anything can be. */
export function undoLast(): boolean {
  const done = last.value;
  if (done === null) return false;
  last.value = null;
  void done.undo();
  return true;
}

/** The line at the foot of the page that offers to undo. */
export function UndoLine() {
  const done = last.value;
  useEffect(() => {
    if (done === null) return;
    const timer = setTimeout(() => {
      if (last.value === done) last.value = null;
    }, 20_000);
    return () => clearTimeout(timer);
  }, [done]);
  return (
    <div aria-live="polite">
      {done !== null && (
        <div class="undo">
          <span>{done.says}</span>
          <button type="button" onClick={undoLast}>
            Undo
          </button>
        </div>
      )}
    </div>
  );
}
