import type { ComponentChildren } from 'preact';
import { useEffect, useId, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { TERMS, type TermName } from '../words.ts';

/** How long a pointer rests on a word before it is explained: less would explain what is only passed over. */
const REST = 300;
/** Room between an explanation and the edge of the window, in pixels. */
const EDGE = 8;

/** Shut; open as long as the pointer is near; open until it is pressed again, left or dismissed. */
type Openness = 'shut' | 'near' | 'held';

/**
 * A word that explains itself on hover, focus or tap. What it says stands above it, where one has read already, and so
 * covers no control that comes next; below where there is no room. Escape shuts it, and so does a press on it.
 */
export function Term({ is, children }: { is: TermName; children: ComponentChildren }) {
  const id = useId();
  const [open, setOpen] = useState<Openness>('shut');
  const resting = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const word = useRef<HTMLButtonElement>(null);
  const tip = useRef<HTMLSpanElement>(null);
  const said = open !== 'shut';
  useLayoutEffect(() => {
    tip.current!.togglePopover(said);
    if (!said) return;
    const follow = () => place(tip.current!, word.current!);
    const hear = (event: KeyboardEvent) => event.key === 'Escape' && setOpen('shut');
    follow();
    addEventListener('scroll', follow, true);
    addEventListener('resize', follow);
    addEventListener('keydown', hear);
    return () => {
      removeEventListener('scroll', follow, true);
      removeEventListener('resize', follow);
      removeEventListener('keydown', hear);
    };
  }, [said]);
  useEffect(() => () => clearTimeout(resting.current), []);
  const shut = () => {
    clearTimeout(resting.current);
    setOpen('shut');
  };
  // Only a pointer that moves: a word that is scrolled under it was not asked about.
  const come = (event: PointerEvent) => {
    if (event.pointerType !== 'mouse' || said) return;
    clearTimeout(resting.current);
    resting.current = setTimeout(() => setOpen('near'), REST);
  };
  const leave = () => {
    clearTimeout(resting.current);
    setOpen((was) => (was === 'near' ? 'shut' : was));
  };
  return (
    <span class="term" onPointerMove={come} onPointerLeave={leave}>
      <button
        ref={word}
        type="button"
        aria-describedby={id}
        aria-expanded={said}
        onClick={() => (open === 'held' ? shut() : setOpen('held'))}
        onFocus={(event) => event.currentTarget.matches(':focus-visible') && setOpen('held')}
        onBlur={shut}
      >
        {children}
      </button>
      <span ref={tip} class="tip" role="tooltip" id={id} popover="manual" onPointerDown={shut}>
        {TERMS[is]}
      </span>
    </span>
  );
}

/** Above its word, or below where the window ends; never beyond a side. */
function place(tip: HTMLElement, word: HTMLElement): void {
  const { top, bottom, left } = word.getBoundingClientRect();
  const { width, height } = tip.getBoundingClientRect();
  const last = document.documentElement.clientWidth - EDGE - width;
  tip.style.left = `${Math.max(EDGE, Math.min(left, last))}px`;
  tip.style.top = `${top - height >= EDGE ? top - height : bottom}px`;
}
