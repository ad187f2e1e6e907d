import { Choice, Field, LongText } from '../parts/field.tsx';
import { Term } from '../parts/term.tsx';
import { materialName, useMaterials } from '../shelf/known-materials.ts';
import { MaterialByName } from '../shelf/material-field.tsx';
import { AddedCautions } from './added-cautions.tsx';
import { Chapter, type ChapterProps, Entry } from './chapter.tsx';
import { withAdded, withGroup, withRemoved, withRow } from './draft-changes.ts';
import { capsGist, cautionsGist, concentrateGist } from './gist.ts';
import { idsOf } from './ids.ts';

/** From the blend to the glass: concentrate, drink, limits, cautions. All of it may be left empty. */
export function DrinkChapter(props: ChapterProps) {
  return (
    <>
      <ConcentrateFields {...props} />
      <DrinkFields {...props} />
      <CapsFields {...props} />
      <CautionFields {...props} />
    </>
  );
}

function ConcentrateFields({ draft, change, faultAt }: ChapterProps) {
  const field = (key: keyof typeof draft.concentrate) => ({
    value: draft.concentrate[key],
    change: (value: string) =>
      change(withGroup(draft, 'concentrate', { [key]: value }), `concentrate ${key}`),
    fault: faultAt(`concentrate.${key}`),
    path: `concentrate.${key}`,
  });
  const materials = useMaterials();
  return (
    <Chapter
      title="The concentrate"
      gist={concentrateGist(draft, (id) => materialName(materials, id))}
      paths={['concentrate']}
      says="What the blend is topped up with, in a bottle. May stay empty: what then cannot be worked out is said to be missing."
    >
      <div class="fields">
        <MaterialByName
          label={<Term is="carrier">Alcohol it is made up with</Term>}
          class="wide"
          {...field('carrier')}
        />
        <Field label="Strength when made up" number unit="% vol" {...field('percentVol')} />
        <Field label="Filled to" number unit="mL" {...field('fillMillilitres')} />
      </div>
    </Chapter>
  );
}

function DrinkFields({ draft, change, faultAt }: ChapterProps) {
  const field = (key: keyof typeof draft.drink, path: string = key) => ({
    value: draft.drink[key],
    change: (value: string) => change(withGroup(draft, 'drink', { [key]: value }), `drink ${key}`),
    fault: faultAt(`drink.${path}`),
    path: `drink.${path}`,
  });
  const ids = idsOf(draft).settings;
  const doses = [
    ['', 'the same for all'] as const,
    ...draft.settings
      .map(({ name }, k) => [ids[k]!, `as set by ${name || ids[k]}`] as const)
      .filter(([id]) => id !== ''),
  ];
  return (
    <Chapter title="The drink" gist={draft.drink.name} paths={['drink']}>
      <div class="fields">
        <Field label="Drink, in words that give no formula away" class="wide" {...field('name')} />
        <Field label="In one cup" number unit="mL" {...field('cupMillilitres')} />
        <Field label="Alcohol of its own" number unit="% vol" {...field('percentVol')} />
        <Field label="Density" number unit="g/mL" {...field('density')} />
        <Choice
          label="Dose of concentrate"
          class="wide"
          options={doses}
          {...field('doseSetting', 'dosePerLitre.setting')}
        />
        {draft.drink.doseSetting === '' && (
          <Field label="Dose" number unit="mL per L" {...field('dose', 'dosePerLitre')} />
        )}
      </div>
    </Chapter>
  );
}

function CapsFields({ draft, change, faultAt }: ChapterProps) {
  const field = (key: keyof typeof draft.caps, path: string) => ({
    value: draft.caps[key],
    change: (value: string) => change(withGroup(draft, 'caps', { [key]: value }), `caps ${key}`),
    fault: faultAt(`caps.${path}`),
    path: `caps.${path}`,
  });
  return (
    <Chapter title="Not to be exceeded" gist={capsGist(draft)} paths={['caps']}>
      <div class="fields">
        <Field
          label="Ethanol per taster and sitting"
          number
          unit="g"
          {...field('ethanol', 'ethanolGramsPerSitting')}
        />
        <Field
          label="Cost per litre of drink"
          number
          unit={draft.currency || 'as priced'}
          {...field('cost', 'costPerLitre')}
        />
        <Field
          label="Laws to check against"
          {...field('jurisdictions', 'jurisdictions')}
          help="For instance EU, US"
        />
      </div>
    </Chapter>
  );
}

const READERS = [
  ['taster', 'who tastes, before the first cup'],
  ['bench', 'who weighs and pours'],
  ['label', 'who reads the card'],
] as const;

function CautionFields(props: ChapterProps) {
  const { draft, change, faultAt } = props;
  return (
    <Chapter
      title="Cautions"
      gist={cautionsGist(draft)}
      paths={['cautions', 'cautionWords']}
      says="Allergens, medicines, skin, alcohol: shown word for word."
    >
      {draft.cautions.map((caution, index) => (
        <Entry
          key={index}
          what={`caution ${index + 1}`}
          remove={() => change(withRemoved(draft, 'cautions', index), '')}
        >
          <Choice
            label="For"
            class="narrow"
            value={caution.to}
            options={READERS}
            change={(to) => change(withRow(draft, 'cautions', index, { to }), '')}
            fault={faultAt(`cautions[${index}].to`)}
            path={`cautions[${index}].to`}
          />
          <LongText
            label="Words"
            value={caution.text}
            change={(text) => change(withRow(draft, 'cautions', index, { text }), `caution ${index}`)}
            fault={faultAt(`cautions[${index}].text`)}
            path={`cautions[${index}].text`}
          />
        </Entry>
      ))}
      <button type="button" onClick={() => change(withAdded(draft, 'cautions'), '')}>
        Add a caution
      </button>
      <AddedCautions {...props} />
    </Chapter>
  );
}
