import { type ComponentChildren, createContext } from 'preact';
import { useContext, useEffect, useMemo, useRef } from 'preact/hooks';
import type { Fault } from '../../../trials/schema/api.ts';
import { Care } from '../parts/page.tsx';
import { AttributesChapter } from './attributes-chapter.tsx';
import { BoundsChapter } from './bounds-chapter.tsx';
import { ComponentsChapter } from './components-chapter.tsx';
import type { BriefDraft } from './draft.ts';
import { DrinkChapter } from './drink-chapter.tsx';
import { type FaultAt, faultsByPath } from './faults-by-path.ts';
import { PanelChapter } from './panel-chapter.tsx';
import { SettingsChapter } from './settings-chapter.tsx';
import { TitleChapter } from './title-chapter.tsx';
import type { BriefEditing } from './use-brief.ts';

/** What each chapter of the form is given. */
export interface ChapterProps {
  draft: BriefDraft;
  /** A change; changes under one label in a row are taken back as one. */
  change: (next: BriefDraft, label: string) => void;
  faultAt: FaultAt;
}

/** Whether chapters begin open, and what is wrong in them. */
const Folding = createContext<{ open: boolean; faults: readonly Fault[] }>({ open: true, faults: [] });

interface FormProps {
  editing: BriefEditing;
  /** Chapters begin open, as for a brief that is still empty. */
  open: boolean;
  children: ComponentChildren;
}

/** The brief as a form, chapter by chapter. */
export function BriefForm({ editing, open, children }: FormProps) {
  const folding = useMemo(() => ({ open, faults: editing.faults }), [open, editing.faults]);
  const props: ChapterProps = {
    draft: editing.draft,
    change: editing.change,
    faultAt: faultsByPath(editing.faults),
  };
  return (
    <form noValidate onSubmit={(event) => event.preventDefault()}>
      <FaultSummary editing={editing} />
      <TitleChapter {...props} />
      <Folding.Provider value={folding}>
        <ComponentsChapter {...props} />
        <BoundsChapter {...props} />
        <SettingsChapter {...props} />
        <AttributesChapter {...props} />
        <PanelChapter {...props} />
        <DrinkChapter {...props} />
      </Folding.Provider>
      <div class="savebar">
        <span class="says" role="status">
          {editing.touched ? 'Not saved yet; kept on this computer as you type.' : 'Nothing changed.'}
        </span>
        <button type="button" disabled={editing.undo === null} onClick={() => editing.undo?.()}>
          Undo
        </button>
        <button type="button" disabled={editing.redo === null} onClick={() => editing.redo?.()}>
          Redo
        </button>
        {children}
      </div>
    </form>
  );
}

function FaultSummary({ editing }: { editing: BriefEditing }) {
  if (editing.faults.length === 0) return null;
  return (
    <Care>
      <p role="alert">
        <strong>The brief does not hold together yet.</strong>
      </p>
      <ul class="fault-list">
        {editing.faults.map((fault, index) => (
          <li key={index}>
            <button type="button" class="quiet" onClick={() => focusOn(fault.where)}>
              {fault.where || 'the brief'}
            </button>{' '}
            {fault.message.replace(`${fault.where}: `, '')}
          </li>
        ))}
      </ul>
    </Care>
  );
}

/** The field at a path, or the nearest thing that holds it. */
function focusOn(path: string): void {
  const fields = [...document.querySelectorAll<HTMLElement>('[data-path]')];
  const at = (field: HTMLElement) => field.dataset['path'] ?? '';
  const found =
    fields.find((field) => at(field) === path) ?? fields.find((field) => at(field).startsWith(path));
  found?.closest('details')?.setAttribute('open', '');
  found?.focus();
}

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
