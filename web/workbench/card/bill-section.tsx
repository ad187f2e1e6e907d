import { useState } from 'preact/hooks';
import type { Card } from '../../../trials/schema/api.ts';
import { amount as inFull, money, moneyHead } from '../../../trials/schema/money.ts';
import { useLoaded } from '../loaded.ts';
import { figure, readNumber } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { Field } from '../parts/field.tsx';
import { Table } from '../parts/table.tsx';
import { ask } from '../server.ts';
import { billOf, readMass } from './bill.ts';

/** What a larger amount takes, what stands on the shelf, and what to buy. */
export function BillSection({ card }: { card: Card }) {
  const [amount, setAmount] = useState('1 kg');
  const [loss, setLoss] = useState('3');
  const [shelf, again] = useLoaded('shelf', () => ask('readShelf'));
  const grams = readMass(amount);
  const share = (readNumber(loss) ?? Number.NaN) / 100;
  const lossFault = share >= 0 && share < 1 ? undefined : 'From 0 to below 100.';
  return (
    <section>
      <h2>To make more, and what to buy</h2>
      <div class="fields">
        <Field
          label="Concentrate wanted"
          value={amount}
          change={setAmount}
          fault={grams === null ? 'A mass, as 250 g or 5 kg.' : undefined}
        />
        <Field
          label="Stays in vessels and filters"
          unit="of 100"
          number
          value={loss}
          change={setLoss}
          fault={lossFault}
        />
      </div>
      <Await of={shelf} what="the shelf" again={again}>
        {(found) => {
          if (grams === null || lossFault !== undefined) return null;
          const bill = billOf(card, grams, share, found);
          const places = placesFor(bill.lines.map((line) => line.grams));
          return (
            <>
              <Table
                caption="What it takes"
                quietCaption
                rows={bill.lines}
                columns={[
                  { head: 'Material', cell: ({ material }) => material },
                  { head: 'weigh, g', number: true, cell: (line) => line.grams.toFixed(places) },
                  { head: 'on the shelf, g', number: true, cell: (line) => line.onShelf.toFixed(places) },
                  { head: 'buy, g', number: true, cell: (line) => line.buy.toFixed(places) },
                  {
                    head: moneyHead(card.formula.currency, 'costs'),
                    number: true,
                    cell: ({ cost }) => (cost === null ? 'not known' : inFull(cost)),
                  },
                ]}
              />
              <p class="soft">
                {figure(bill.grams, 4)} g are made.{' '}
                {bill.cost === null
                  ? 'A price is missing, so no sum.'
                  : `To buy: ${money(bill.cost, card.formula.currency)}.`}
              </p>
            </>
          );
        }}
      </Await>
    </section>
  );
}

/** Decimals with which the smallest of some masses shows three figures, the same for all. */
function placesFor(masses: readonly number[]): number {
  const least = Math.min(...masses.filter((mass) => mass > 0));
  return Number.isFinite(least) ? Math.min(4, Math.max(0, 2 - Math.floor(Math.log10(least)))) : 0;
}
