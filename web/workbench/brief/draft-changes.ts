import { BLANK, type BriefDraft } from './draft.ts';
import { idsOf } from './ids.ts';

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

/** Changes fields of one row. Parts that get another short name take it along into limits and dose. */
export function withRow<L extends ListName>(
  draft: BriefDraft,
  list: L,
  index: number,
  change: Partial<Row<L>>,
): BriefDraft {
  const rows: readonly Row<L>[] = draft[list];
  return renamed(draft, {
    ...draft,
    [list]: rows.map((row, at) => (at === index ? { ...row, ...change } : row)),
  });
}

function renamed(before: BriefDraft, after: BriefDraft): BriefDraft {
  const [old, now] = [idsOf(before), idsOf(after)];
  const names = (list: 'components' | 'settings') =>
    new Map(old[list].flatMap((id, k) => (id === '' || id === now[list][k] ? [] : [[id, now[list][k]!]])));
  const [components, settings] = [names('components'), names('settings')];
  if (components.size + settings.size === 0) return after;
  const { doseSetting } = after.drink;
  return {
    ...after,
    bounds: after.bounds.map((bound) => ({
      ...bound,
      terms: bound.terms.map((term) => ({
        ...term,
        component: components.get(term.component) ?? term.component,
      })),
    })),
    drink: { ...after.drink, doseSetting: settings.get(doseSetting) ?? doseSetting },
  };
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
