import type { LimitView, MaterialView } from '../../../trials/schema/api.ts';
import type { OwnLimit } from '../../../trials/schema/shelf-shapes.ts';
import { Choice, Field } from '../parts/field.tsx';
import { numberOf, SheetForm, textOrNull } from './sheet-form.tsx';

const KINDS = [
  ['maximum', 'no more than this in the drink'],
  ['banned', 'none at all'],
  ['banned as such', 'none added as the pure substance'],
] as const;
const UNITS = [
  ['mg/kg', 'mg/kg'],
  ['mg/L', 'mg/L'],
] as const;
const DRINKS = [
  ['any', 'any drink'],
  ['alcoholic', 'drinks above 1.2 % vol'],
  ['non-alcoholic', 'drinks up to 1.2 % vol'],
] as const;

const NAMES = {
  substance: 'Of what',
  cas: 'CAS number',
  limit: 'At most',
  only: 'Of this kind only',
  jurisdiction: 'Whose rule',
  source: 'Where this stands',
  note: 'Note',
};

interface LimitFormProps {
  label: string;
  act: string;
  /** The limit that is changed; null for a new one. */
  of: LimitView | null;
  materials: readonly MaterialView[];
  send: (limit: OwnLimit) => Promise<void>;
}

/** A limit of the maker's own: in the finished drink, for a substance or a material as a whole. */
export function LimitForm({ label, act, of, materials, send }: LimitFormProps) {
  return (
    <SheetForm
      label={label}
      act={act}
      begin={begun(of)}
      names={NAMES}
      send={async (typed) => {
        const isFigure = typed.kind === 'maximum';
        await send({
          substance: typed.substance,
          cas: textOrNull(typed.cas),
          limit: isFigure ? numberOf(typed.limit) : 0,
          unit: typed.unit as OwnLimit['unit'],
          kind: typed.kind as OwnLimit['kind'],
          drinks: typed.drinks as OwnLimit['drinks'],
          only: textOrNull(typed.only),
          jurisdiction: textOrNull(typed.jurisdiction) ?? 'own',
          source: typed.source,
          note: typed.note,
        });
      }}
    >
      {(field) => (
        <div class="fields">
          <Field
            label="Of what"
            class="wide"
            {...field('substance')}
            offers={namesIn(materials)}
            help="a substance or a whole material, as the shelf names it"
          />
          <Field label="CAS number" placeholder="64-17-5" {...field('cas')} />
          <Choice label="It says" class="wide" options={KINDS} {...field('kind')} />
          {field('kind').value === 'maximum' && (
            <>
              <Field label="At most" number {...field('limit')} />
              <Choice label="counted in" options={UNITS} {...field('unit')} help="of the finished drink" />
            </>
          )}
          <Choice label="It holds for" class="wide" options={DRINKS} {...field('drinks')} />
          <Field
            label="of this kind only"
            class="wide"
            {...field('only')}
            help="bitters, cola; left out where it holds for all of them"
          />
          <Field
            label="Whose rule"
            placeholder="own"
            {...field('jurisdiction')}
            help="a customer, a country"
          />
          <Field
            label="Where this stands"
            class="wide"
            {...field('source')}
            help="the letter or law, and its date"
          />
          <Field label="Note" class="wide" {...field('note')} />
        </div>
      )}
    </SheetForm>
  );
}

function begun(of: LimitView | null) {
  return {
    substance: of?.substance ?? '',
    cas: of?.cas ?? '',
    limit: of === null || of.kind !== 'maximum' ? '' : String(of.limit),
    unit: of?.unit ?? 'mg/kg',
    kind: of?.kind ?? 'maximum',
    drinks: of?.drinks ?? 'any',
    only: of?.only ?? '',
    jurisdiction: of?.jurisdiction ?? '',
    source: of?.source ?? '',
    note: of?.note ?? '',
  };
}

/** Materials, and what they hold. */
function namesIn(materials: readonly MaterialView[]): string[] {
  const names = materials.flatMap(({ name, constituents }) => [
    name,
    ...constituents.map(({ substance }) => substance),
  ]);
  return [...new Set(names)];
}
