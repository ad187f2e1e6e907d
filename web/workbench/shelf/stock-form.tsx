import type { ShelfView } from '../../../trials/schema/api.ts';
import { figure, readNumber } from '../numbers.ts';
import { Choice, Field } from '../parts/field.tsx';
import { ask } from '../server.ts';
import { MaterialField } from './material-field.tsx';
import { numberOf, SheetForm, textOrNull } from './sheet-form.tsx';

/** A stock made of a bottle: so much of it, so much solvent, as the balance showed. */
export function StockForm({ shelf, done }: { shelf: ShelfView; done: () => void }) {
  const full = shelf.lots.filter(({ grams }) => grams > 0);
  if (full.length === 0) return <p class="soft">Put a bottle on the shelf first.</p>;
  const bottles = full.map(({ lot, label, grams }) => [lot, `${label}, ${figure(grams)} g`] as const);
  return (
    <SheetForm
      label="A stock"
      act="Make the stock"
      begin={{ label: '', from: full[0]!.lot, grams: '', lot: '', material: 'Ethanol 96 % vol', solvent: '' }}
      send={async ({ label, from, grams, lot, material, solvent }) => {
        const taken = lot === '' ? { material: textOrNull(material) } : { lot };
        await ask(
          'makeStock',
          {},
          { label, from, grams: numberOf(grams), solvent: { ...taken, grams: numberOf(solvent) } },
        );
        done();
      }}
    >
      {(field) => {
        const source = full.find(({ lot }) => lot === field('from').value);
        const [part, rest] = [readNumber(field('grams').value), readNumber(field('solvent').value)];
        const whole = (part ?? 0) + (rest ?? 0);
        const strength = source && part && rest ? (source.strength * part) / whole : null;
        return (
          <>
            <div class="fields">
              <Field label="What its label will say" {...field('label')} />
              <Choice label="Of bottle" options={bottles} {...field('from')} />
              <Field label="Weighed of it" unit="g" number {...field('grams')} />
              <Choice
                label="Made up from"
                options={[['', 'no bottle of the shelf'], ...bottles]}
                {...field('lot')}
              />
              {field('lot').value === '' && (
                <MaterialField label="with" materials={shelf.materials} {...field('material')} />
              )}
              <Field label="Weighed of that" unit="g" number {...field('solvent')} />
            </div>
            <p class="soft" role="status">
              {strength === null
                ? 'One part to nine makes a tenth. Type what the balance shows: the stock is as strong as what was weighed.'
                : `That makes ${figure(whole)} g of ${figure(strength, 4)} % by mass.`}
            </p>
          </>
        );
      }}
    </SheetForm>
  );
}
