import { signal } from '@preact/signals';
import { keep, kept } from './kept.ts';
import { undoLast } from './parts/undo.tsx';

/** Letter keys may be in the way of voice control or a screen reader: they can be turned off. */
export const letterKeys = signal(kept<boolean>('letter-keys') ?? true);

export function setLetterKeys(on: boolean): void {
  letterKeys.value = on;
  keep('letter-keys', on);
}

/** What each key does, as the help shows it. */
export const KEYS: readonly (readonly [keys: string, says: string])[] = [
  ['?', 'this list'],
  ['[ and ]', 'back and on along the trial’s story'],
  ['/', 'search, on the list of trials'],
  ['u', 'undo what was just done'],
  ['Enter', 'while weighing: keep the number and go on'],
  ['← → and Shift', 'at the desk: move a seam by a step, or by ten'],
];

/** Listens for letter keys outside fields. Returns what stops it. */
export function listenForKeys(showHelp: () => void): () => void {
  const hear = (event: KeyboardEvent) => {
    if (!letterKeys.value || event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return;
    const done = press(event.key, showHelp);
    if (done) event.preventDefault();
  };
  addEventListener('keydown', hear);
  return () => removeEventListener('keydown', hear);
}

function press(key: string, showHelp: () => void): boolean {
  if (key === '?') showHelp();
  else if (key === '[' || key === ']') return turn(key === ']' ? 1 : -1);
  else if (key === '/') return focusOn('input[type=search]');
  else if (key === 'u') return undoLast();
  else return false;
  return true;
}

function turn(by: 1 | -1): boolean {
  const marks = [...document.querySelectorAll<HTMLAnchorElement>('.spine li a')];
  const here = marks.findIndex((mark) => mark.hasAttribute('aria-current'));
  const there = marks[here + by];
  if (here < 0 || there === undefined) return false;
  location.hash = there.hash;
  return true;
}

function focusOn(selector: string): boolean {
  const found = document.querySelector<HTMLElement>(selector);
  found?.focus();
  return found !== null;
}

function isTyping(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.closest('input, textarea, select, [role="slider"]') !== null;
}
