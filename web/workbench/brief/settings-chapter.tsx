import { Choice, Field } from '../parts/field.tsx';
import { Term } from '../parts/term.tsx';
import { Chapter, type ChapterProps, Entry } from './chapter.tsx';
import type { SettingDraft } from './draft.ts';
import { withAdded, withRemoved, withRow } from './draft-changes.ts';
import { settingsGist } from './gist.ts';

const ACTS = [
  ['each', 'on each component in its own way'],
  ['whole', 'on all alike'],
] as const;

/** What is varied beside the blend. */
export function SettingsChapter({ draft, change, faultAt }: ChapterProps) {
  return (
    <Chapter
      title="Varied beside the blend"
      gist={settingsGist(draft)}
      paths={['settings']}
      says={
        <>
          A <Term is="setting">setting</Term> such as the dose in the drink, the acid, the sweetness, the age.
          At most four.
        </>
      }
    >
      {draft.settings.map((setting, index) => (
        <SettingEntry
          key={index}
          setting={setting}
          index={index}
          change={(next, label) =>
            change(withRow(draft, 'settings', index, next), `settings ${index} ${label}`)
          }
          remove={() => change(withRemoved(draft, 'settings', index), '')}
          faultAt={faultAt}
        />
      ))}
      <button
        type="button"
        disabled={draft.settings.length >= 4}
        onClick={() => change(withAdded(draft, 'settings'), '')}
      >
        Add a setting
      </button>
    </Chapter>
  );
}

interface EntryProps {
  setting: SettingDraft;
  index: number;
  change: (next: Partial<SettingDraft>, label: string) => void;
  remove: () => void;
  faultAt: ChapterProps['faultAt'];
}

function SettingEntry({ setting, index, change, remove, faultAt }: EntryProps) {
  const field = (key: keyof SettingDraft) => ({
    value: setting[key],
    change: (value: string) => change({ [key]: value }, key),
    fault: faultAt(`settings[${index}].${key}`),
    path: `settings[${index}].${key}`,
  });
  return (
    <Entry what={setting.name || `setting ${index + 1}`} remove={remove}>
      <div class="fields">
        <Field label="Name" class="wide" {...field('name')} />
        <Field label="Short name" {...field('id')} />
        <Field label="Unit" {...field('unit')} />
        <Field label="From" number {...field('low')} />
        <Field label="To" number {...field('high')} />
        <Choice label="Acts" class="wide" options={ACTS} {...field('acts')} />
      </div>
    </Entry>
  );
}
