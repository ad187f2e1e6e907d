import { Check, Field } from '../parts/field.tsx';
import { Term } from '../parts/term.tsx';
import { Chapter, type ChapterProps } from './chapter.tsx';
import { withGroup } from './draft-changes.ts';
import { balanceGist, peopleGist } from './gist.ts';
import { RepeatWeighings } from './repeat-weighings.tsx';

/** The balance, and the people. */
export function PanelChapter({ draft, change, faultAt }: ChapterProps) {
  const batch = (key: 'grams' | 'readability' | 'tolerance') => ({
    value: draft.batch[key],
    change: (value: string) => change(withGroup(draft, 'batch', { [key]: value }), `batch ${key}`),
    fault: faultAt(`batch.${key}`),
    path: `batch.${key}`,
  });
  const panel = (key: 'assessors' | 'cupsPerSitting' | 'replicates') => ({
    value: draft.panel[key],
    change: (value: string) => change(withGroup(draft, 'panel', { [key]: value }), `panel ${key}`),
    fault: faultAt(`panel.${key}`),
    path: `panel.${key}`,
  });
  return (
    <>
      <Chapter title="The balance" gist={balanceGist(draft)} paths={['batch']}>
        <div class="fields">
          <Field
            label={<Term is="batch">All components in one mix</Term>}
            number
            unit="g"
            {...batch('grams')}
          />
          <Field
            label={<Term is="readability">Smallest step your scale shows</Term>}
            number
            unit="g"
            {...batch('readability')}
          />
          <Field
            label="Each mass known to within"
            number
            unit="%"
            {...batch('tolerance')}
            help="Where the scale cannot, a stock is asked for."
          />
        </div>
        <RepeatWeighings {...{ draft, change, faultAt }} />
      </Chapter>
      <Chapter title="The people" gist={peopleGist(draft)} paths={['panel']}>
        <div class="fields">
          <Field label="Tasters" number {...panel('assessors')} />
          <Field label="Cups each can take at a sitting" number {...panel('cupsPerSitting')} />
          <Field label={<Term is="replicates">Times each mix</Term>} number {...panel('replicates')} />
        </div>
        <Check
          checked={draft.panel.lingers ?? false}
          change={(lingers) => change(withGroup(draft, 'panel', { lingers }), '')}
        >
          The taste lingers (bitter, oily): longer rests and fewer cups
        </Check>
      </Chapter>
    </>
  );
}
