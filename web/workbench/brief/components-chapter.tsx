import { Field } from '../parts/field.tsx';
import { useMaterials } from '../shelf/known-materials.ts';
import { MaterialByName } from '../shelf/material-field.tsx';
import { Chapter, type ChapterProps, Entry } from './chapter.tsx';
import type { ComponentDraft } from './draft.ts';
import { withAdded, withRemoved, withRow } from './draft-changes.ts';
import { componentsGist } from './gist.ts';
import { idsOf } from './ids.ts';

/** What is blended, and how much of each is allowed. */
export function ComponentsChapter({ draft, change, faultAt }: ChapterProps) {
  const ids = idsOf(draft).components;
  return (
    <Chapter
      title="What is blended"
      gist={componentsGist(draft)}
      paths={['components', 'currency']}
      says="Parts of a hundred, by mass, of all components together: 20 is a fifth. A dilution counts whole, as it is poured."
    >
      {faultAt('components') !== undefined && <p class="field fault">{faultAt('components')}</p>}
      {draft.components.map((component, index) => (
        <ComponentEntry
          key={index}
          component={component}
          index={index}
          id={ids[index]!}
          currency={draft.currency ?? ''}
          change={(next, label) =>
            change(withRow(draft, 'components', index, next), `components ${index} ${label}`)
          }
          remove={() => change(withRemoved(draft, 'components', index), '')}
          faultAt={faultAt}
        />
      ))}
      <button type="button" onClick={() => change(withAdded(draft, 'components'), '')}>
        Add a component
      </button>
      <Field
        label="Prices are in"
        class="narrow"
        value={draft.currency ?? ''}
        change={(currency) => change({ ...draft, currency }, 'currency')}
        fault={faultAt('currency')}
        path="currency"
        placeholder="EUR"
        help="Shown with every cost; nothing is converted."
      />
    </Chapter>
  );
}

interface EntryProps {
  component: ComponentDraft;
  index: number;
  /** The short name it has as things stand. */
  id: string;
  /** What its price is in. */
  currency: string;
  change: (next: Partial<ComponentDraft>, label: string) => void;
  remove: () => void;
  faultAt: ChapterProps['faultAt'];
}

function ComponentEntry({ component, index, id, currency, change, remove, faultAt }: EntryProps) {
  const at = `components[${index}]`;
  const materials = useMaterials();
  const field = (key: keyof ComponentDraft, name: string) => ({
    value: component[key],
    change: (value: string) => change({ [key]: value }, key),
    fault: faultAt(`${at}.${name}`),
    path: `${at}.${name}`,
  });
  return (
    <Entry what={component.name || `component ${index + 1}`} remove={remove}>
      <div class="fields">
        <Field
          label="Name"
          class="wide"
          {...field('name', 'name')}
          offers={materials.map(({ name }) => name)}
        />
        <Field label="At least" number unit="of 100" {...field('low', 'low')} />
        <Field label="At most" number unit="of 100" {...field('high', 'high')} />
      </div>
      <details>
        <summary class="small">price, strength, stocks, short name</summary>
        <div class="fields">
          <Field label="Price" number unit={`${currency} per g`.trim()} {...field('price', 'pricePerGram')} />
          <Field
            label="Strength"
            number
            unit="% by mass"
            help="Pure substance in what is weighed; empty = pure."
            {...field('strength', 'strength')}
          />
          <MaterialByName label="Dissolved in" {...field('solvent', 'solvent')} />
          <MaterialByName
            label="Material on the shelf"
            {...field('material', 'material')}
            help="For density, price, cautions and limits."
          />
          <Field
            label="Weighed from stocks of"
            unit="%"
            {...field('stocks', 'stocks')}
            help="Several: 5; 1"
          />
          <Field
            label="Short name"
            {...field('id', 'id')}
            placeholder={id}
            help="For charts and files; made of the name where it is empty."
          />
        </div>
      </details>
    </Entry>
  );
}
