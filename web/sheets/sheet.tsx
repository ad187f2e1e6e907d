import type { ComponentChildren } from 'preact';

interface SheetProps {
  /** What the sheet is for. */
  title: string;
  /** The trial, and the round or sitting. */
  of: string;
  /** One sentence for whoever holds it. */
  says?: string;
  class?: string;
  children: ComponentChildren;
}

/** One printed page, or a run of pages under one head. */
export function Sheet({ title, of, says, class: more = '', children }: SheetProps) {
  return (
    <section class={`paper ${more}`} aria-label={title}>
      <header class="paper-head">
        <h1>{title}</h1>
        <p class="paper-of">{of}</p>
        {says !== undefined && <p>{says}</p>}
      </header>
      {children}
    </section>
  );
}

/** A line to write on, with what belongs there. */
export function WriteIn({ what }: { what: string }) {
  return (
    <span class="write-in">
      {what} <span class="write-line" />
    </span>
  );
}
