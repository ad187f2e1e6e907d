import type { ComponentChildren } from 'preact';

/** Marks what is made up. */
export function Invented({ children }: { children: ComponentChildren }) {
  return (
    <p class="small">
      <span class="marker">
        <span class="word">invented</span>
      </span>{' '}
      {children}
    </p>
  );
}
