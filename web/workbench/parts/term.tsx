import type { ComponentChildren } from 'preact';
import { useId, useState } from 'preact/hooks';
import { TERMS, type TermName } from '../words.ts';

/** A word that explains itself on hover, focus or tap. */
export function Term({ is, children }: { is: TermName; children: ComponentChildren }) {
  const tip = useId();
  const [open, setOpen] = useState(false);
  return (
    <button
      type="button"
      class="term"
      aria-describedby={tip}
      aria-expanded={open}
      onClick={() => setOpen(!open)}
      onBlur={() => setOpen(false)}
      onKeyDown={(event) => event.key === 'Escape' && setOpen(false)}
    >
      {children}
      <span class="tip" role="tooltip" id={tip}>
        {TERMS[is]}
      </span>
    </button>
  );
}
