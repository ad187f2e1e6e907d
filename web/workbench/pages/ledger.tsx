import type { TrialView } from '../../../trials/schema/api.ts';
import { amount, money, moneyHead } from '../../../trials/schema/money.ts';
import { useLoaded } from '../loaded.ts';
import { count, figure, grams, when } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { PageHead } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { type Answer, ask, type Params } from '../server.ts';

/** What every gram of the trial went into. */
export function LedgerPage({ trial }: { trial: TrialView }) {
  const params: Params = { trial: trial.trial };
  const [ledger, again] = useLoaded(`ledger ${trial.trial} ${trial.changed}`, () =>
    ask('readLedger', params),
  );
  return (
    <>
      <PageHead title="Ledger">What every gram went into, as weighed.</PageHead>
      <Await of={ledger} what="the ledger" again={again}>
        {(found) => <Told trial={trial} ledger={found} />}
      </Await>
    </>
  );
}

function Told({ trial, ledger }: { trial: TrialView; ledger: Answer<'readLedger'> }) {
  const { components, batch, currency } = trial.brief;
  const { bottles, totals, cost } = ledger;
  if (bottles.length === 0) return <p class="soft">Nothing has been weighed yet.</p>;
  const all = totals.reduce((sum, one) => sum + one.grams, 0);
  return (
    <>
      <p>
        {count(bottles.length, 'bottle')}, {figure(all, 4)} g in all
        {cost === null ? '; a price is missing, so no sum' : `, materials for ${money(cost, currency)}`}.
      </p>
      <Table
        caption="What each component went through"
        rows={totals}
        columns={[
          { head: 'Component', cell: ({ name, component }) => name || component },
          { head: 'grams', number: true, cell: (one) => grams(one.grams, batch.readability) },
          {
            head: moneyHead(currency, 'cost'),
            number: true,
            cell: (one) => (one.cost === null ? 'not known' : amount(one.cost)),
          },
        ]}
      />
      <Table
        caption="Bottle by bottle, grams"
        rows={bottles}
        columns={[
          { head: 'Bottle', cell: ({ blend }) => blend },
          {
            head: 'Weighed',
            oneLine: true,
            cell: ({ at, corrected }) => `${when(at)}${corrected > 0 ? `, ${corrected} corrected` : ''}`,
          },
          ...components.map(({ id }) => ({
            head: id,
            number: true,
            cell: ({ grams: own, from }: (typeof bottles)[number]) =>
              massOf(own, from, id, batch.readability),
          })),
          { head: 'Mixes', cell: ({ mixes }) => mixes.join(', ') },
          { head: 'Cups', number: true, cell: ({ cups }) => cups },
        ]}
      />
    </>
  );
}

function massOf(
  own: Readonly<Record<string, number>>,
  from: Readonly<Record<string, string>>,
  id: string,
  readability: number,
) {
  const parts = Object.entries(own).filter(([key, mass]) => key.split('@')[0] === id && mass > 0);
  return parts.map(([key, mass]) => (
    <span key={key} title={from[key] === undefined ? undefined : `from ${from[key]}`}>
      {grams(mass, readability)}
      {key !== id && ` of ${key.split('@')[1]} %`}
    </span>
  ));
}
