import { shelfId } from '../../../trials/shelf/shelf-id.ts';
import { readNumber } from '../numbers.ts';
import { Choice, Field, LongText } from '../parts/field.tsx';
import { ask } from '../server.ts';
import { PriceField } from './price-field.tsx';
import { numberOrNull, SheetForm, textOrNull } from './sheet-form.tsx';

const KINDS = [
  ['aroma chemical', 'one aroma substance'],
  ['essential oil', 'an essential oil'],
  ['extract', 'an extract or tincture'],
  ['carrier', 'a carrier or solvent'],
] as const;
type Kind = (typeof KINDS)[number][0];

const EMPTY = {
  name: '',
  kind: 'aroma chemical',
  cas: '',
  fema: '',
  density: '',
  flash: '',
  price: '',
  natural: '',
  allergens: '',
  hazards: '',
  clearParts: '',
  clearStrength: '',
  constituents: '',
  complete: 'no',
  source: '',
};

/** A material of the maker's own, from the bottle or the supplier's sheet. It goes before the starter shelf's. */
export function MaterialForm({ done }: { done: () => void }) {
  return (
    <SheetForm
      label="A material of your own"
      act="Keep the material"
      begin={EMPTY}
      send={async (typed) => {
        await ask(
          'keepMaterial',
          { material: shelfId(typed.name) },
          {
            name: typed.name,
            kind: typed.kind as Kind,
            cas: textOrNull(typed.cas),
            fema: numberOrNull(typed.fema),
            density: numberOrNull(typed.density),
            flashPoint: numberOrNull(typed.flash),
            pricePerGram: numberOrNull(typed.price),
            natural: typed.natural,
            allergens: typed.allergens,
            hazards: typed.hazards,
            clearIn: readClearIn(typed.clearParts, typed.clearStrength),
            constituents: readConstituents(typed.constituents),
            complete: typed.complete === 'yes',
            source: typed.source,
          },
        );
        done();
      }}
    >
      {(field) => (
        <>
          <div class="fields">
            <Field label="Name" {...field('name')} />
            <Choice label="It is" options={KINDS} {...field('kind')} />
            <Field label="CAS number" placeholder="64-17-5" {...field('cas')} />
            <Field label="FEMA number" number {...field('fema')} />
            <Field label="Density at 20 °C" unit="g/mL" number {...field('density')} />
            <Field label="Flash point" unit="°C" number {...field('flash')} />
            <PriceField {...field('price')} />
            <Field label="Natural?" {...field('natural')} />
            <Field label="Allergens" {...field('allergens')} />
            <Field label="Hazards" {...field('hazards')} />
            <Field
              label="Mixes clear with"
              unit="parts"
              number
              {...field('clearParts')}
              help="parts of alcohol to one of it"
            />
            <Field
              label="of alcohol of"
              unit="% vol"
              number
              {...field('clearStrength')}
              help="an oil’s sheet says so"
            />
            <Field label="Where this stands" {...field('source')} help="supplier’s sheet and its date" />
          </div>
          <LongText
            label="What it holds that limits speak of"
            {...field('constituents')}
            help="One a line: name; CAS number; most, in % by mass. As “Estragole; 140-67-0; 3”."
          />
          <Choice
            label="Is that all that a limit could ask for?"
            class="narrow-choice"
            options={[
              ['no', 'no, or not known'],
              ['yes', 'yes, the sheet says so'],
            ]}
            {...field('complete')}
          />
        </>
      )}
    </SheetForm>
  );
}

/** Both or neither; half of it is sent as it stands and refused with its place. */
export function readClearIn(parts: string, strength: string) {
  if (parts.trim() === '' && strength.trim() === '') return null;
  return { percentVol: numberOrNull(strength)!, parts: numberOrNull(parts)! };
}

/** Lines of `name; CAS; most`. What cannot be read is sent as it stands and refused with its place. */
export function readConstituents(text: string) {
  return text
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line) => {
      const [substance = '', cas = '', most = ''] = line.split(';').map((part) => part.trim());
      return {
        substance,
        cas: textOrNull(cas),
        mostPercent: readNumber(most.replace('%', '')) ?? (most as unknown as number),
      };
    });
}
