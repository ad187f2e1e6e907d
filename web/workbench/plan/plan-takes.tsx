import type { TrialView } from '../../../trials/schema/api.ts';
import { amount, moneyHead } from '../../../trials/schema/money.ts';
import { count, figure, grams, listed } from '../numbers.ts';
import { priceOf } from '../pages/price.ts';
import { Figures } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import type { PlanDocument, PlannedMix } from '../results.ts';
import { MODELS } from '../words.ts';

interface TakesProps {
  trial: TrialView;
  plan: PlanDocument;
  /** Mixes that are to be made. */
  kept: readonly PlannedMix[];
}

/** What the plan takes and what it would let the panel notice, before it is accepted. */
export function PlanTakes({ trial, plan, kept }: TakesProps) {
  const { price, thrift, hiddenDuplicate, smallerBatch } = plan;
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
      {thrift && <p>{thrift.says}</p>}
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
              head: moneyHead(trial.brief.currency),
              number: true,
              cell: ({ id, pricePerGram }) =>
                pricePerGram === undefined ? '' : amount((price.grams[id] ?? 0) * pricePerGram),
            },
          ]}
        />
      </Figures>
    </>
  );
}

/** The smallest differences that the panel would notice, judged as the sizes are. */
function Noticed({ trial, plan }: { trial: TrialView; plan: PlanDocument }) {
  const shifts = plan.among?.shifts ?? plan.shifts;
  if (shifts.length === 0) return null;
  const poorer = plan.among && plan.comparedIn !== plan.model && plan.shifts.length > 0;
  return (
    <p>
      Four times in five the panel would notice a difference of {differences(trial, shifts)}.
      {poorer &&
        ` That lets every pair of components act together, as the sizes above do. You asked for another model, ${MODELS[plan.model] ?? plan.model}: if that holds, it would notice ${differences(trial, plan.shifts)}.`}
    </p>
  );
}

type Shifts = PlanDocument['shifts'];

/** Where the scatter of scores is known from. */
export function scatterWords(shifts: Shifts): string {
  const from = new Set(shifts.map(({ noise }) => noise.from));
  if (from.has('stated')) return 'as you stated it';
  if (!from.has('assumed')) return 'as the last reading found it';
  if (from.has('fit')) return 'as the last reading found it, where it could be told, else a guess';
  return 'a guess (an eighth of the scale) until the first reading';
}

function differences(trial: TrialView, shifts: Shifts): string {
  const name = (id: string) => trial.brief.attributes.find((one) => one.id === id)?.name ?? id;
  const parts = shifts.map(({ attribute, shift }) => (100 * shift) / lengthOf(trial, attribute));
  const alike = parts.every((part) => Math.abs(part - parts[0]!) < 0.05 * part);
  if (alike) return `${figure(parts[0]!, 2)} points of 100 on any question`;
  return listed(shifts.map(({ attribute, shift }) => `${figure(shift, 2)} in ${name(attribute)}`));
}

function lengthOf(trial: TrialView, attribute: string): number {
  const { scale } = trial.brief.attributes.find(({ id }) => id === attribute)!;
  return scale[1] - scale[0];
}
