import type { MaterialView } from '../../../trials/schema/api.ts';
import { Field } from '../parts/field.tsx';
import { ask } from '../server.ts';
import { MaterialField } from './material-field.tsx';
import { PriceField } from './price-field.tsx';
import { numberOf, numberOrNull, SheetForm, textOrNull } from './sheet-form.tsx';

const EMPTY = {
  material: '',
  label: '',
  grams: '',
  strength: '',
  solvent: '',
  density: '',
  price: '',
  supplier: '',
  opened: '',
  bestBefore: '',
};

/** A bottle that came to the shelf. */
export function BottleForm({ materials, done }: { materials: readonly MaterialView[]; done: () => void }) {
  return (
    <SheetForm
      label="A bottle that came"
      act="Put it on the shelf"
      begin={EMPTY}
      send={async (typed) => {
        await ask(
          'addLot',
          {},
          {
            material: typed.material,
            label: typed.label,
            grams: numberOf(typed.grams),
            strength: numberOrNull(typed.strength) ?? 100,
            solvent: textOrNull(typed.solvent),
            density: numberOrNull(typed.density),
            pricePerGram: numberOrNull(typed.price),
            supplier: typed.supplier,
            opened: textOrNull(typed.opened),
            bestBefore: textOrNull(typed.bestBefore),
          },
        );
        done();
      }}
    >
      {(field) => (
        <div class="fields">
          <MaterialField label="What is in it" materials={materials} {...field('material')} />
          <Field label="What the label says" {...field('label')} help="name, lot number" />
          <Field label="How much" unit="g" number {...field('grams')} />
          <Field
            label="Strength"
            unit="% by mass"
            number
            placeholder="100"
            {...field('strength')}
            help="less than 100 where it came diluted"
          />
          <MaterialField label="Diluted in" materials={materials} {...field('solvent')} />
          <Field label="Density at 20 °C" unit="g/mL" number {...field('density')} />
          <PriceField {...field('price')} />
          <Field label="From whom" {...field('supplier')} />
          <Field label="Opened on" placeholder="2026-03-10" {...field('opened')} />
          <Field label="Best before" placeholder="2027-03-10" {...field('bestBefore')} />
        </div>
      )}
    </SheetForm>
  );
}
