import type { TrialView } from '../../../trials/schema/api.ts';
import { count, figure, grams, listed } from '../numbers.ts';
import { priceOf } from '../pages/price.ts';
import { Figures } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import type { PlanDocument, PlannedMix } from '../results.ts';

interface TakesProps {
  trial: TrialView;
  plan: PlanDocument;
  /** Mixes that are to be made. */
  kept: readonly PlannedMix[];
}

/** What the plan takes and what it would let the panel notice, before it is accepted. */
export function PlanTakes({ trial, plan, kept }: TakesProps) {
  const { price, hiddenDuplicate, smallerBatch } = plan;
  if (price === undefined) return <p>{priceOf(trial.brief, kept)}</p>;
  const { sittings, minutes } = price;
  return (
    <>
      <p>
        {priceOf(trial.brief, kept)} About {count(Math.round(minutes.weighing), 'minute')} to weigh,{' '}
        {Math.round(minutes.pouring)} to pour, and {count(sittings, 'sitting')} of{' '}
        {Math.round(minutes.tastingEach / sittings)} minutes for each taster.
      </p>
      <Noticed trial={trial} plan={plan} />
      {hiddenDuplicate !== null && <p>{hiddenDuplicate.why}</p>}
      {smallerBatch !== null && <p>{smallerBatch.says}</p>}
      <Figures says="what it takes of each">
        <Table
          caption="Grams for all bottles together"
          quietCaption
          rows={trial.brief.components}
          columns={[
            { head: 'component', cell: ({ name }) => name },
            {
              head: 'grams',
              number: true,
              cell: ({ id }) => grams(price.grams[id] ?? 0, trial.brief.batch.readability),
            },
            {
              head: 'of this as stock',
              number: true,
              cell: ({ id }) =>
                listed(
                  price.stocks
                    .filter(({ component }) => component === id)
                    .map(
                      (stock) =>
                        `${grams(stock.grams, trial.brief.batch.readability)} g of ${stock.strength} %`,
                    ),
                ) || '',
            },
            {
              head: 'money',
              number: true,
              cell: ({ id, pricePerGram }) =>
                pricePerGram === undefined ? '' : ((price.grams[id] ?? 0) * pricePerGram).toFixed(2),
            },
          ]}
        />
      </Figures>
    </>
  );
}

/** The smallest differences that the panel would notice. */
function Noticed({ trial, plan: { shifts } }: { trial: TrialView; plan: PlanDocument }) {
  if (shifts.length === 0) return null;
  const name = (id: string) => trial.brief.attributes.find((one) => one.id === id)?.name ?? id;
  const from = {
    fit: 'as the last reading found your tasters to scatter',
    stated: 'with the scatter that was stated',
    assumed: 'if scores scatter by an eighth of the scale, which is a guess until the first reading',
  }[shifts[0]!.noise.from];
  const parts = shifts.map(({ attribute, shift }) => (100 * shift) / lengthOf(trial, attribute));
  const alike = parts.every((part) => Math.abs(part - parts[0]!) < 0.05 * part);
  const each = shifts.map(({ attribute, shift }) => `${figure(shift, 2)} in ${name(attribute)}`);
  return (
    <p>
      Four times in five the panel would notice a difference of{' '}
      {alike ? `${figure(parts[0]!, 2)} points of 100 on any question` : listed(each)}, {from}.
    </p>
  );
}

function lengthOf(trial: TrialView, attribute: string): number {
  const { scale } = trial.brief.attributes.find(({ id }) => id === attribute)!;
  return scale[1] - scale[0];
}
