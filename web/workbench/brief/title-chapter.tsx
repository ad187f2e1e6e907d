import { Field } from '../parts/field.tsx';
import type { ChapterProps } from './chapter.tsx';

/** What the trial is called. */
export function TitleChapter({ draft, change, faultAt }: ChapterProps) {
  return (
    <section>
      <Field
        label="Name of the trial"
        value={draft.name}
        change={(name) => change({ ...draft, name }, 'name')}
        fault={faultAt('name')}
        path="name"
      />
    </section>
  );
}
