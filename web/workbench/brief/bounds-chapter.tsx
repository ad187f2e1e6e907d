import { Choice, Field } from '../parts/field.tsx';
import { Chapter, type ChapterProps, Entry } from './chapter.tsx';
import type { BoundDraft, BriefDraft } from './draft.ts';
import { withAdded, withRemoved, withRow } from './draft-changes.ts';
import { boundsGist } from './gist.ts';
import { idsOf } from './ids.ts';

/** Limits on several components together. */
export function BoundsChapter({ draft, change, faultAt }: ChapterProps) {
  return (
    <Chapter
      title="Limits on several together"
      gist={boundsGist(draft)}
      paths={['bounds']}
      says="For what no single limit says, such as all oils together at most 80 of 100. Leave it empty if there is none."
    >
      {draft.bounds.map((bound, index) => (
        <BoundEntry
          key={index}
          bound={bound}
          index={index}
          draft={draft}
          change={(next, label) => change(withRow(draft, 'bounds', index, next), `bounds ${index} ${label}`)}
          remove={() => change(withRemoved(draft, 'bounds', index), '')}
          faultAt={faultAt}
        />
      ))}
      <button type="button" onClick={() => change(withAdded(draft, 'bounds'), '')}>
        Add a limit
      </button>
    </Chapter>
  );
}

interface EntryProps {
  bound: BoundDraft;
  index: number;
  draft: BriefDraft;
  change: (next: Partial<BoundDraft>, label: string) => void;
  remove: () => void;
  faultAt: ChapterProps['faultAt'];
}

function BoundEntry({ bound, index, draft, change, remove, faultAt }: EntryProps) {
  const at = `bounds[${index}]`;
  return (
    <Entry what={`limit ${index + 1}`} remove={remove}>
      <div class="fields">
        <Field
          label="At least"
          number
          unit="of 100"
          value={bound.least}
          change={(least) => change({ least }, 'least')}
          fault={faultAt(`${at}.least`)}
          path={`${at}.least`}
        />
        <Field
          label="At most"
          number
          unit="of 100"
          value={bound.most}
          change={(most) => change({ most }, 'most')}
          fault={faultAt(`${at}.most`)}
          path={`${at}.most`}
        />
      </div>
      <p class="small soft">for the sum of</p>
      <BoundTerms bound={bound} at={at} draft={draft} change={change} faultAt={faultAt} />
    </Entry>
  );
}

type TermsProps = Omit<EntryProps, 'index' | 'remove'> & { at: string };

function BoundTerms({ bound, at, draft, change, faultAt }: TermsProps) {
  const ids = idsOf(draft).components;
  const options = [
    ['', 'choose …'] as const,
    ...draft.components.map(({ name }, k) => [ids[k]!, name || ids[k]!] as const).filter(([id]) => id !== ''),
  ];
  const setTerm = (which: number, next: Partial<BoundDraft['terms'][number]>, label: string) =>
    change({ terms: bound.terms.map((term, t) => (t === which ? { ...term, ...next } : term)) }, label);
  return (
    <>
      {bound.terms.map((term, which) => (
        <div class="fields" key={which}>
          <Field
            label="Times"
            number
            value={term.coefficient}
            change={(coefficient) => setTerm(which, { coefficient }, `times ${which}`)}
            fault={faultAt(`${at}.of.${term.component}`)}
            path={`${at}.of.${term.component}`}
          />
          <Choice
            label="Component"
            class="wide"
            value={term.component}
            options={options}
            change={(component) => setTerm(which, { component }, '')}
            fault={which === 0 ? faultAt(`${at}.of`) : undefined}
          />
        </div>
      ))}
      <button
        type="button"
        class="quiet small"
        onClick={() => change({ terms: [...bound.terms, { coefficient: '1', component: '' }] }, '')}
      >
        Add a component to this limit
      </button>
    </>
  );
}
