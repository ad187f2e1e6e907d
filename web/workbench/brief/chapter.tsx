import { type ComponentChildren, createContext } from 'preact';
import { useContext, useEffect, useRef } from 'preact/hooks';
import type { Fault } from '../../../trials/schema/api.ts';
import type { BriefDraft } from './draft.ts';
import type { FaultAt } from './faults-by-path.ts';

/** What each chapter of the form is given. */
export interface ChapterProps {
  draft: BriefDraft;
  /** A change; changes under one label in a row are taken back as one. */
  change: (next: BriefDraft, label: string) => void;
  faultAt: FaultAt;
}

/** Whether chapters begin open, and what is wrong in them. */
export const Folding = createContext<{ open: boolean; faults: readonly Fault[] }>({ open: true, faults: [] });

interface ChapterFrame {
  title: string;
  /** What stands in it, in a line, for when it is folded away. */
  gist: string;
  says?: ComponentChildren;
  /** Paths of its fields begin so; a fault in it opens it. */
  paths: readonly string[];
  children: ComponentChildren;
}

/** A chapter of the form: a heading and its gist, its fields behind them. */
export function Chapter({ title, gist, says, paths, children }: ChapterFrame) {
  const { open, faults } = useContext(Folding);
  const faulty = faults.some(({ where }) => paths.some((path) => where === path || where.startsWith(path)));
  const fold = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    if (faulty && fold.current) fold.current.open = true;
  }, [faulty]);
  return (
    <details class="chapter" ref={fold} open={open}>
      <summary>
        <h2>{title}</h2>
        <span class="gist">{gist || 'nothing yet'}</span>
      </summary>
      {says !== undefined && <p class="soft">{says}</p>}
      {children}
    </details>
  );
}

/** One row of a list, with the button that takes it away. */
export function Entry({
  what,
  remove,
  children,
}: {
  what: string;
  remove: () => void;
  children: ComponentChildren;
}) {
  return (
    <fieldset class="entry">
      <legend class="unseen">{what}</legend>
      <div>{children}</div>
      <button type="button" class="quiet small remove" onClick={remove} aria-label={`Take away ${what}`}>
        Take away
      </button>
    </fieldset>
  );
}
