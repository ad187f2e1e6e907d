import { useEffect, useRef, useState } from 'preact/hooks';
import type { Fault } from '../../../trials/schema/api.ts';
import { checkBrief } from '../../../trials/schema/check-brief.ts';
import { keep, kept } from '../kept.ts';
import { type BriefDraft, jsonOf } from './draft.ts';
import { changed, type History, historyOf, redone, undone } from './history.ts';

/** A brief being edited: its draft with undo, kept on this computer until it is saved. */
export interface BriefEditing {
  draft: BriefDraft;
  change: (next: BriefDraft, label: string) => void;
  undo: (() => void) | null;
  redo: (() => void) | null;
  /** Differs from what was opened. */
  touched: boolean;
  faults: readonly Fault[];
  setFaults: (faults: readonly Fault[]) => void;
  /** How often it was sent back: each time the list of faults is brought before the eye. */
  sentBack: number;
  /** The brief, or null where it has faults, which are then shown. */
  check: () => unknown | null;
  /** Starts over from another draft, as after saving or reading a file. */
  replace: (draft: BriefDraft, saved: boolean) => void;
}

/** Edits a brief. `name` names the draft that is kept; faults, once shown, are checked again as the maker types. */
export function useBrief(name: string, opened: BriefDraft): BriefEditing {
  const key = keyOf(name);
  const base = useRef(opened);
  const [history, setHistory] = useState<History<BriefDraft>>(() =>
    historyOf(kept<BriefDraft>(key) ?? opened),
  );
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  const [strict, setStrict] = useState(false);
  const [sentBack, setSentBack] = useState(0);
  const draft = history.now;
  const touched = JSON.stringify(draft) !== JSON.stringify(base.current);

  useEffect(() => {
    const timer = setTimeout(() => keep(key, touched ? draft : null), 300);
    if (strict) setFaults(faultsOf(draft));
    return () => clearTimeout(timer);
  }, [draft]);

  const check = () => {
    const found = faultsOf(draft);
    setFaults(found);
    setStrict(found.length > 0);
    if (found.length > 0) setSentBack((times) => times + 1);
    return found.length > 0 ? null : jsonOf(draft);
  };
  const replace = (next: BriefDraft, saved: boolean) => {
    if (saved) {
      base.current = next;
      keep(key, null);
    }
    setFaults([]);
    setStrict(false);
    setHistory(saved ? historyOf(next) : changed(history, next, ''));
  };
  return {
    draft,
    change: (next, label) => setHistory(changed(history, next, label)),
    undo: history.past.length > 0 ? () => setHistory(undone(history)) : null,
    redo: history.future.length > 0 ? () => setHistory(redone(history)) : null,
    touched,
    faults,
    setFaults: (found) => {
      setFaults(found);
      setSentBack((times) => times + 1);
    },
    sentBack,
    check,
    replace,
  };
}

/** Changes the draft that is kept under a name, or what was opened where none is: it is there when the brief is next looked at. */
export function changeKeptDraft(
  name: string,
  opened: BriefDraft,
  change: (draft: BriefDraft) => BriefDraft,
): void {
  const key = keyOf(name);
  keep(key, change(kept<BriefDraft>(key) ?? opened));
}

function keyOf(name: string): string {
  return `${name}:in-hundreds`;
}

/** Judged by the very rules of the workbench; what they cannot know here (an empty region) it says on saving. */
function faultsOf(draft: BriefDraft): readonly Fault[] {
  // Undefined fields vanish on the way to the workbench; so they do here.
  const checked = checkBrief(JSON.parse(JSON.stringify(jsonOf(draft))));
  return 'faults' in checked ? checked.faults : [];
}
