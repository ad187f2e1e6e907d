import { BLANK, type BriefDraft } from './draft.ts';

/** The lists of a brief whose rows may be added and taken away. */
export type ListName = 'components' | 'bounds' | 'settings' | 'attributes' | 'cautions';
type Row<L extends ListName> = BriefDraft[L][number];

/** A group of fields that is there once. */
type GroupName = 'batch' | 'panel' | 'concentrate' | 'drink' | 'caps';

/** Changes fields of one group. */
export function withGroup<G extends GroupName>(
  draft: BriefDraft,
  group: G,
  change: Partial<BriefDraft[G]>,
): BriefDraft {
  return { ...draft, [group]: { ...draft[group], ...change } };
}

/** Changes fields of one row. A component that gets another short name takes it along into the bounds. */
export function withRow<L extends ListName>(
  draft: BriefDraft,
  list: L,
  index: number,
  change: Partial<Row<L>>,
): BriefDraft {
  const rows: readonly Row<L>[] = draft[list];
  const changed = { ...draft, [list]: rows.map((row, at) => (at === index ? { ...row, ...change } : row)) };
  return list === 'components'
    ? renamedInBounds(changed, draft.components[index]!.id, changed.components[index]!.id)
    : changed;
}

function renamedInBounds(draft: BriefDraft, from: string, to: string): BriefDraft {
  if (from === to || from === '') return draft;
  const bounds = draft.bounds.map((bound) => ({
    ...bound,
    terms: bound.terms.map((term) => (term.component === from ? { ...term, component: to } : term)),
  }));
  return { ...draft, bounds };
}

/** Adds an empty row at the end. */
export function withAdded(draft: BriefDraft, list: ListName): BriefDraft {
  const blank = {
    components: BLANK.component,
    bounds: BLANK.bound,
    settings: BLANK.setting,
    attributes: BLANK.attribute,
    cautions: BLANK.caution,
  }[list]();
  return { ...draft, [list]: [...draft[list], blank] };
}

/** Takes a row away. */
export function withRemoved(draft: BriefDraft, list: ListName, index: number): BriefDraft {
  const rows: readonly unknown[] = draft[list];
  return { ...draft, [list]: rows.filter((_, at) => at !== index) };
}
