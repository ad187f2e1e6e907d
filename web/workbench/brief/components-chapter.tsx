import { Field } from '../parts/field.tsx';
import { Chapter, type ChapterProps, Entry } from './chapter.tsx';
import { type ComponentDraft, idFrom } from './draft.ts';
import { withAdded, withRemoved, withRow } from './draft-changes.ts';
import { componentsGist } from './gist.ts';

/** What is blended, and how much of each is allowed. */
export function ComponentsChapter({ draft, change, faultAt }: ChapterProps) {
  return (
    <Chapter
      title="What is blended"
      gist={componentsGist(draft)}
      paths={['components']}
      says="Shares are of the mass of all components together: 0.2 is a fifth. A dilution counts whole, as it is poured."
    >
      {faultAt('components') !== undefined && <p class="field fault">{faultAt('components')}</p>}
      {draft.components.map((component, index) => (
        <ComponentEntry
          key={index}
          component={component}
          index={index}
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
    </Chapter>
  );
}

interface EntryProps {
  component: ComponentDraft;
  index: number;
  change: (next: Partial<ComponentDraft>, label: string) => void;
  remove: () => void;
  faultAt: ChapterProps['faultAt'];
}

function ComponentEntry({ component, index, change, remove, faultAt }: EntryProps) {
  const at = `components[${index}]`;
  const field = (key: keyof ComponentDraft, name: string) => ({
    value: component[key],
    change: (value: string) => change({ [key]: value }, key),
    fault: faultAt(`${at}.${name}`),
    path: `${at}.${name}`,
  });
  return (
    <Entry what={component.name || `component ${index + 1}`} remove={remove}>
      <div class="fields">
        <Field label="Name" class="wide" {...field('name', 'name')} />
        <Field
          label="Short name"
          {...field('id', 'id')}
          placeholder={idFrom(component.name) || 'for charts and files'}
        />
        <Field label="At least" number {...field('low', 'low')} />
        <Field label="At most" number {...field('high', 'high')} />
      </div>
      <details>
        <summary class="small">price, strength, stocks</summary>
        <div class="fields">
          <Field label="Price" number unit="per g" {...field('price', 'pricePerGram')} />
          <Field
            label="Strength"
            number
            unit="% by mass"
            help="Pure substance in what is weighed; empty = pure."
            {...field('strength', 'strength')}
          />
          <Field label="Dissolved in" {...field('solvent', 'solvent')} />
          <Field label="Material on the shelf" {...field('material', 'material')} />
          <Field
            label="Weighed from stocks of"
            unit="%"
            {...field('stocks', 'stocks')}
            help="Several: 5; 1"
          />
        </div>
      </details>
    </Entry>
  );
}
