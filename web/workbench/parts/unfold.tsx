import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

/** Something that is fetched only once it is opened. */
export function Unfold({ says, children }: { says: string; children: ComponentChildren }) {
  const [opened, setOpened] = useState(false);
  return (
    <details onToggle={(event) => event.currentTarget.open && setOpened(true)}>
      <summary>{says}</summary>
      {opened && children}
    </details>
  );
}
