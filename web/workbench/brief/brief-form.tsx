import type { ComponentChildren } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { Care } from '../parts/page.tsx';
import { AttributesChapter } from './attributes-chapter.tsx';
import { BoundsChapter } from './bounds-chapter.tsx';
import { type ChapterProps, Folding } from './chapter.tsx';
import { ComponentsChapter } from './components-chapter.tsx';
import { DrinkChapter } from './drink-chapter.tsx';
import { faultWords, placeWords, worthTelling } from './fault-words.ts';
import { faultsByPath } from './faults-by-path.ts';
import { PanelChapter } from './panel-chapter.tsx';
import { SettingsChapter } from './settings-chapter.tsx';
import { TitleChapter } from './title-chapter.tsx';
import type { BriefEditing } from './use-brief.ts';

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
  const head = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (editing.sentBack > 0) head.current?.scrollIntoView({ block: 'center' });
  }, [editing.sentBack]);
  if (editing.faults.length === 0) return null;
  return (
    <Care>
      <p role="alert" ref={head}>
        <strong>Something is missing or does not fit:</strong>
      </p>
      <ul class="fault-list">
        {worthTelling(editing.faults).map((fault, index) => (
          <li key={index}>
            <button type="button" class="quiet" onClick={() => focusOn(fault.where)}>
              {placeWords(fault.where)}
            </button>
            : {faultWords(fault)}
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
