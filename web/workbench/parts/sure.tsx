import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

interface SureProps {
  /** What the button says. */
  says: string;
  /** What will happen, in a sentence. */
  children: ComponentChildren;
  /** What the second button says. */
  yes: string;
  act: () => unknown;
  /** It is the page's main button. */
  filled?: boolean;
  /** Asked when the first button is pressed: true where there is nothing to be said, and it is done at once. */
  plain?: () => Promise<boolean>;
}

/** Something that is not lightly done: the first press says what will happen, the second does it. */
export function Sure({ says, children, yes, act, filled = false, plain }: SureProps) {
  const [asked, setAsked] = useState(false);
  const press = async () => {
    if (plain !== undefined && (await plain())) act();
    else setAsked(true);
  };
  if (!asked)
    return (
      <button type="button" class={filled ? 'do' : 'quiet'} onClick={() => void press()}>
        {says}
      </button>
    );
  return (
    <div class="note care" role="alertdialog" aria-label={says}>
      <p>{children}</p>
      <div class="row">
        <button
          type="button"
          onClick={() => {
            setAsked(false);
            void act();
          }}
        >
          {yes}
        </button>
        <button type="button" class="quiet" onClick={() => setAsked(false)}>
          Leave it
        </button>
      </div>
    </div>
  );
}
