import type { ComponentChildren } from 'preact';

/** A wide thing that scrolls by itself, by keyboard too. */
export function Scroll({ label, children }: { label: string; children: ComponentChildren }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section class="table" tabIndex={0} aria-label={label}>
      {children}
    </section>
  );
}
