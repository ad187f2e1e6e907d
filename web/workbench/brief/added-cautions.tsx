import { useMemo } from 'preact/hooks';
import { ADDED_ABOUT, type AddedAbout } from '../../../trials/schema/caution-words.ts';
import { checkBrief } from '../../../trials/schema/check-brief.ts';
import { type AddedCaution, addedCautions } from '../../../trials/schema/taster-cautions.ts';
import { LongText } from '../parts/field.tsx';
import type { ChapterProps } from './chapter.tsx';
import { type BriefDraft, jsonOf } from './draft.ts';

/** What the workbench tells tasters by itself, each with a field for the maker's own wording; none can be taken away. */
export function AddedCautions({ draft, change, faultAt }: ChapterProps) {
  const added = useMemo(() => addedTo(draft), [draft]);
  const words = draft.cautionWords ?? {};
  const others = ADDED_ABOUT.filter(
    (about) => (words[about] ?? '').trim() !== '' && !added?.some((one) => one.about === about),
  );
  if (added !== null && added.length + others.length === 0) return null;
  const wording = (about: AddedAbout) => ({
    value: words[about] ?? '',
    change: (text: string) =>
      change({ ...draft, cautionWords: { ...words, [about]: text } }, `wording ${about}`),
    fault: faultAt(`cautionWords.${about}`),
    path: `cautionWords.${about}`,
  });
  return (
    <section aria-label="What every ballot says by itself">
      <h3>What every ballot says by itself</h3>
      <p class="soft">
        {added === null
          ? 'Once nothing is missing in the brief, what the drink makes plain stands here.'
          : 'The drink makes it plain. You can put it in your tasters’ own words; left empty, the English stands.'}
      </p>
      {(added ?? []).map(({ about, english }) => (
        <LongText
          key={about}
          label={`In your words: ${about}`}
          {...wording(about)}
          help={
            <>
              In place of: “{english}”
              {about === 'alcohol' &&
                ' Write [cup] and [all] where the grams in a cup and in all cups stand, [cups] for how many.'}
            </>
          }
        />
      ))}
      {others.map((about) => (
        <LongText
          key={about}
          label={`In your words: ${about}`}
          {...wording(about)}
          help="Not told now: nothing in the brief makes it plain, or a caution above says it."
        />
      ))}
    </section>
  );
}

/** Null while the brief has faults of its own: the grams cannot be told then. */
function addedTo(draft: BriefDraft): AddedCaution[] | null {
  const { cautionWords: _, ...rest } = draft;
  const checked = checkBrief(JSON.parse(JSON.stringify(jsonOf(rest))));
  return 'faults' in checked ? null : addedCautions(checked.brief);
}
