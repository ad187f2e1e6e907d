import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

interface UnfoldProps {
  says: string;
  small?: boolean;
  children: ComponentChildren;
}

/** Something that is made only once it is opened: most of what stands one click behind is never looked at. */
export function Unfold({ says, small = false, children }: UnfoldProps) {
  const [opened, setOpened] = useState(false);
  return (
    <details onToggle={(event) => event.currentTarget.open && setOpened(true)}>
      <summary class={small ? 'small' : undefined}>{says}</summary>
      {opened && children}
    </details>
  );
}
