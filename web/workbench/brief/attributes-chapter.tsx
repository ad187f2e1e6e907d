import { readNumber } from '../numbers.ts';
import { Choice, Field } from '../parts/field.tsx';
import { Term } from '../parts/term.tsx';
import { Chapter, type ChapterProps, Entry } from './chapter.tsx';
import type { AttributeDraft } from './draft.ts';
import { withAdded, withRemoved, withRow } from './draft-changes.ts';
import { attributesGist } from './gist.ts';

const AIMS = [
  ['value', 'a score of'],
  ['range', 'between'],
  ['reference', 'as the reference'],
  ['most', 'as high as can be'],
  ['least', 'as low as can be'],
  ['none', 'nothing, only look'],
] as const;

const FORMS = [
  ['', 'what suits the scale'],
  ['line', 'a line without numbers'],
  ['points', 'whole numbers'],
  ['categories', 'a word for each step'],
  ['liking', 'nine words of liking (scale 1 to 9)'],
  ['just-about-right', 'too little to too much'],
] as const;

/** What tasters are asked, and what the answers should come to. */
export function AttributesChapter({ draft, change, faultAt }: ChapterProps) {
  return (
    <Chapter
      title="What it must taste like"
      gist={attributesGist(draft)}
      paths={['attributes']}
      says="Each is one question on the tasters’ phones, marked from 0 to 100 unless you say otherwise. Aim at the score your own tasters would give the drink you want: they are the instrument."
    >
      {faultAt('attributes') !== undefined && <p class="field fault">{faultAt('attributes')}</p>}
      {draft.attributes.map((attribute, index) => (
        <AttributeEntry
          key={index}
          attribute={attribute}
          index={index}
          change={(next, label) =>
            change(withRow(draft, 'attributes', index, next), `attributes ${index} ${label}`)
          }
          remove={() => change(withRemoved(draft, 'attributes', index), '')}
          faultAt={faultAt}
        />
      ))}
      <button type="button" onClick={() => change(withAdded(draft, 'attributes'), '')}>
        Add a question
      </button>
    </Chapter>
  );
}

interface EntryProps {
  attribute: AttributeDraft;
  index: number;
  change: (next: Partial<AttributeDraft>, label: string) => void;
  remove: () => void;
  faultAt: ChapterProps['faultAt'];
}

function AttributeEntry({ attribute, index, change, remove, faultAt }: EntryProps) {
  const at = `attributes[${index}]`;
  const { aim } = attribute;
  const field = (key: keyof AttributeDraft, path: string) => ({
    value: attribute[key] ?? '',
    change: (value: string) => change({ [key]: value }, key),
    fault: faultAt(`${at}.${path}`),
    path: `${at}.${path}`,
  });
  const aimed = (path: string) => faultAt(`${at}.target${path}`) ?? faultAt(`${at}.target`);
  return (
    <Entry what={attribute.name || `question ${index + 1}`} remove={remove}>
      <div class="fields">
        <Field label="Name" class="wide" {...field('name', 'name')} />
        <Choice
          label="Aim"
          value={aim}
          options={AIMS}
          change={(next) => change({ aim: next as AttributeDraft['aim'] }, '')}
        />
        {(aim === 'value' || aim === 'range') && (
          <Field
            label={aim === 'range' ? 'From' : 'Score'}
            number
            {...field('target', 'target')}
            fault={aimed('[0]')}
          />
        )}
        {aim === 'range' && (
          <Field label="To" number {...field('targetHigh', 'target[1]')} fault={aimed('[1]')} />
        )}
        {aim !== 'none' && (
          <Field
            label={<Term is="tolerance">Close enough within</Term>}
            number
            unit="points"
            {...field('tolerance', 'tolerance')}
            placeholder={usualTolerance(attribute)}
          />
        )}
      </div>
      <details>
        <summary class="small">scale, weight, short name, how it is answered</summary>
        <div class="fields">
          <Field
            label="Scale from"
            number
            {...field('scaleLow', 'scale[0]')}
            fault={faultAt(`${at}.scale`)}
          />
          <Field label="Scale to" number {...field('scaleHigh', 'scale[1]')} fault={faultAt(`${at}.scale`)} />
          <Field label="Weight" number {...field('weight', 'weight')} />
          <Field label="Short name" {...field('id', 'id')} />
          <Choice
            label="Answered on"
            class="wide"
            value={attribute.form ?? ''}
            options={FORMS}
            change={(form) => change({ form }, '')}
          />
          <Field
            label="Words on the scale"
            class="wide"
            {...field('words', 'words')}
            help="With semicolons between: the two ends, or one for each step."
          />
        </div>
      </details>
    </Entry>
  );
}

/** What counts as a match where nothing is typed: 8 % of the scale. */
function usualTolerance({ scaleLow, scaleHigh }: AttributeDraft): string {
  const [low, high] = [readNumber(scaleLow), readNumber(scaleHigh)];
  return low === null || high === null || high <= low
    ? ''
    : String(Number((0.08 * (high - low)).toPrecision(2)));
}
