import { useState } from 'preact/hooks';
import type { LotView, MaterialView, ShelfView } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { count } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { SearchField } from '../parts/field.tsx';
import { PageHead } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { Unfold } from '../parts/unfold.tsx';
import { shelfAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { BottleForm } from './bottle-form.tsx';
import { Limits } from './limits.tsx';
import { MaterialCard } from './material-card.tsx';
import { MaterialForm } from './material-form.tsx';
import { StockForm } from './stock-form.tsx';

/** Bottles on hand, stocks, and what is known of each material. */
export function ShelfPage() {
  const [shelf, again] = useLoaded('shelf', () => ask('readShelf'));
  return (
    <>
      <PageHead title="Shelf">
        What stands on the shelf, how much is left, and what is known of it. Weighing a mix takes from the
        bottles you name.
      </PageHead>
      <Await of={shelf} what="the shelf" again={again}>
        {(found) => <ShelfParts shelf={found} again={again} />}
      </Await>
    </>
  );
}

function ShelfParts({ shelf, again }: { shelf: ShelfView; again: () => void }) {
  return (
    <>
      <h2>Bottles and stocks</h2>
      <Bottles shelf={shelf} />
      <Unfold says="A bottle came">
        <BottleForm materials={shelf.materials} done={again} />
      </Unfold>
      <Unfold says="Make a stock">
        <StockForm shelf={shelf} done={again} />
      </Unfold>
      <h2>Materials</h2>
      <Materials materials={shelf.materials} />
      <Unfold says="A material of your own">
        <MaterialForm done={again} />
      </Unfold>
      <Limits materials={shelf.materials} />
    </>
  );
}

function Bottles({ shelf }: { shelf: ShelfView }) {
  if (shelf.lots.length === 0)
    return <p class="soft">None yet. Mixes can be weighed without; then nothing is taken off the shelf.</p>;
  const names = new Map(shelf.materials.map(({ material, name }) => [material, name]));
  return (
    <Table
      caption="Bottles and stocks on hand"
      quietCaption
      rows={shelf.lots}
      columns={[
        { head: 'Label', cell: ({ lot, label }) => <a href={shelfAddress(lot)}>{label}</a> },
        { head: 'Holds', cell: (lot) => holds(lot, names) },
        { head: 'left', number: true, cell: ({ grams }) => `${massOf(grams)}\u00a0g` },
        { head: 'Open since', cell: ({ since }) => <span class="nowrap">{since}</span> },
        {
          head: 'Mind',
          cell: ({ warnings, bestBefore }) =>
            warnings.length > 0 ? (
              <strong>{warnings.join('; ')}</strong>
            ) : (
              bestBefore && <span class="nowrap">best before {bestBefore}</span>
            ),
        },
      ]}
    />
  );
}

/** Four figures at most, none that say nothing. */
export function massOf(value: number): string {
  return String(Number(value.toPrecision(4)));
}

/** `Nootkatone, 10 % in Ethanol 96 % vol`. */
export function holds({ material, strength, solvent }: LotView, names: ReadonlyMap<string, string>): string {
  const name = names.get(material) ?? material;
  if (strength === 100) return name;
  return `${name}, ${massOf(strength)} %${solvent === null ? '' : ` in ${names.get(solvent) ?? solvent}`}`;
}

function Materials({ materials }: { materials: readonly MaterialView[] }) {
  const [search, setSearch] = useState('');
  const found = searchMaterials(materials, search);
  return (
    <>
      <SearchField label="Search" value={search} change={setSearch} />
      <p class="soft" role="status">
        {search === ''
          ? `${count(materials.length, 'material')}: your own first, then the starter shelf.`
          : `${count(found.length, 'material')} found.`}
      </p>
      <ul class="materials">
        {(search === '' ? found.filter(({ own }) => own) : found.slice(0, 30)).map((one) => (
          <MaterialCard key={one.material} material={one} />
        ))}
      </ul>
      {search === '' && (
        <Unfold says="Show the starter shelf">
          <ul class="materials">
            {found
              .filter(({ own }) => !own)
              .map((one) => (
                <MaterialCard key={one.material} material={one} />
              ))}
          </ul>
        </Unfold>
      )}
    </>
  );
}

/** Materials whose name, other names, CAS or FEMA number hold every word searched for. */
export function searchMaterials(materials: readonly MaterialView[], search: string): MaterialView[] {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  return materials.filter(({ name, synonyms, cas, fema }) => {
    const text = [name, ...synonyms, cas ?? '', fema ?? ''].join(' ').toLowerCase();
    return words.every((word) => text.includes(word));
  });
}
