import type { z } from 'zod';
import type { LotAccount } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { change, decimalsOf, when } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { Field } from '../parts/field.tsx';
import { PageHead, Warnings } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { Unfold } from '../parts/unfold.tsx';
import { shelfAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { PriceField } from './price-field.tsx';
import { numberOf, numberOrNull, SheetForm, textOrNull } from './sheet-form.tsx';
import { massOf } from './shelf-page.tsx';

type Account = z.infer<typeof LotAccount>;

/** One bottle and every gram in and out of it. */
export function LotPage({ lot }: { lot: string }) {
  const [account, again] = useLoaded(`lot ${lot}`, () => ask('readLot', { lot }));
  if (account.state === 'here') return <LotParts account={account.value} again={again} />;
  return (
    <>
      <PageHead title="Bottle" />
      <Await of={account} what="the bottle" again={again}>
        {() => null}
      </Await>
      <a href={shelfAddress()}>To the shelf</a>
    </>
  );
}

function LotParts({ account: { lot, moves }, again }: { account: Account; again: () => void }) {
  const places = Math.max(3, ...moves.map(({ grams }) => decimalsOf(grams)));
  const age = lot.since === null ? '' : ` Open since ${lot.since}.`;
  return (
    <>
      <PageHead title={lot.label}>
        {massOf(lot.grams)} g left by its account.{age}
      </PageHead>
      <Warnings of={lot.warnings} />
      {lot.parts.length > 0 && (
        <p>
          A stock of {massOf(lot.strength)} % by mass, made of{' '}
          {lot.parts.map(({ label, grams }) => `${massOf(grams)} g ${label}`).join(' and ')}.
        </p>
      )}
      <Table
        caption="Every gram in and out"
        rows={[...moves].reverse()}
        columns={[
          { head: 'When', oneLine: true, cell: ({ at }) => when(at) },
          { head: 'What', cell: ({ says }) => says },
          { head: 'grams', number: true, cell: ({ grams }) => change(grams, places) },
          { head: 'left', number: true, cell: ({ left }) => left.toFixed(places) },
        ]}
      />
      <Unfold says="Count it anew">
        <CountForm lot={lot.lot} done={again} />
      </Unfold>
      <Unfold says="Put its dates, price or density right">
        <ChangeForm lot={lot} done={again} />
      </Unfold>
      <p>
        <a href={shelfAddress()}>The shelf</a>
      </p>
    </>
  );
}

function CountForm({ lot, done }: { lot: string; done: () => void }) {
  return (
    <SheetForm
      label="Count it anew"
      act="Keep the count"
      begin={{ grams: '', why: '' }}
      send={async ({ grams, why }) => {
        await ask('countLot', { lot }, { grams: numberOf(grams), why });
        done();
      }}
    >
      {(field) => (
        <div class="fields">
          <Field label="What is left by the balance" unit="g" number {...field('grams')} />
          <Field label="Why it differs" {...field('why')} />
        </div>
      )}
    </SheetForm>
  );
}

function ChangeForm({ lot, done }: { lot: Account['lot']; done: () => void }) {
  const text = (value: number | string | null) => (value === null ? '' : String(value));
  return (
    <SheetForm
      label="Put it right"
      act="Keep"
      begin={{
        label: lot.label,
        opened: text(lot.opened),
        bestBefore: text(lot.bestBefore),
        price: text(lot.pricePerGram),
        density: text(lot.density),
      }}
      send={async ({ label, opened, bestBefore, price, density }) => {
        await ask(
          'changeLot',
          { lot: lot.lot },
          {
            label,
            opened: textOrNull(opened),
            bestBefore: textOrNull(bestBefore),
            pricePerGram: numberOrNull(price),
            density: numberOrNull(density),
          },
        );
        done();
      }}
    >
      {(field) => (
        <div class="fields">
          <Field label="Label" {...field('label')} />
          <Field label="Opened on" placeholder="2026-03-10" {...field('opened')} />
          <Field label="Best before" placeholder="2027-03-10" {...field('bestBefore')} />
          <PriceField {...field('price')} />
          <Field label="Density at 20 °C" unit="g/mL" number {...field('density')} />
        </div>
      )}
    </SheetForm>
  );
}
