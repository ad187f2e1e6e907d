import { Field } from '../parts/field.tsx';
import type { ChapterProps } from './chapter.tsx';

/** What the trial is called. */
export function TitleChapter({ draft, change, faultAt }: ChapterProps) {
  return (
    <section class="title-chapter">
      <Field
        label="Name of the trial"
        value={draft.name}
        change={(name) => change({ ...draft, name }, 'name')}
        fault={faultAt('name')}
        path="name"
      />
      <Field
        label="Words to find it by"
        value={draft.tags ?? ''}
        change={(tags) => change({ ...draft, tags }, 'tags')}
        fault={faultAt('tags')}
        path="tags"
        help="with commas between; may be left empty"
      />
    </section>
  );
}
