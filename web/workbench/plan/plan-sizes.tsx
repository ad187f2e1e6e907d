import type { TrialView } from '../../../trials/schema/api.ts';
import { amount } from '../../../trials/schema/money.ts';
import { knowledgeChart } from '../../charts/knowledge-chart.ts';
import { count, figure } from '../numbers.ts';
import { Chart } from '../parts/chart.tsx';
import { knowledgeSays } from '../parts/chart-words.ts';
import { weighedMixes } from '../reading/reading-view.ts';
import type { PlanDocument } from '../results.ts';
import { scatterWords } from './plan-takes.tsx';

type Offer = NonNullable<PlanDocument['offers']>[number];

const NAMES: Record<Offer['offer'], { title: string; says: string }> = {
  'one-evening': { title: 'One evening', says: 'Shows which components matter.' },
  'two-evenings': { title: 'Two evenings', says: 'Shows the same more surely, and some bends.' },
  'in-depth': { title: 'In depth', says: 'Shows how every pair acts together.' },
};

interface SizesProps {
  trial: TrialView;
  plan: PlanDocument;
  /** Plans so many mixes, for the model in which the sizes are judged. */
  choose: (mixes: number) => void;
}

/** Three sizes side by side, price against knowledge, and where more mixes stop paying. */
export function PlanSizes({ trial, plan, choose }: SizesProps) {
  const offers = plan.offers ?? [];
  if (offers.length === 0) return null;
  return (
    <>
      <h2>How much do you want to know?</h2>
      <p>
        What each size would let the panel notice counts {beside(trial, plan)}. The scatter of scores is{' '}
        {scatterWords(offers[0]!.shifts)}.
      </p>
      <ul class="sizes">
        {offers.map((offer) => (
          <SizeCard
            key={offer.offer}
            trial={trial}
            offer={offer}
            chosen={offer.mixes === plan.mixes.length}
            choose={choose}
          />
        ))}
      </ul>
      <Knowledge trial={trial} plan={plan} />
    </>
  );
}

interface CardProps {
  trial: TrialView;
  offer: Offer;
  chosen: boolean;
  choose: (mixes: number) => void;
}

function SizeCard({ trial, offer, chosen, choose }: CardProps) {
  const { mixes, price } = offer;
  const { title, says } = NAMES[offer.offer];
  const all = Object.values(price.grams).reduce((sum, mass) => sum + mass, 0);
  const work = price.minutes.weighing + price.minutes.pouring;
  return (
    <li class={chosen ? 'chosen' : undefined}>
      <h3>{title}</h3>
      <p>
        {says} It lets the panel notice a difference of{' '}
        {figure(
          noticed(
            trial,
            offer.shifts.map(({ shift }) => shift),
          ),
          2,
        )}{' '}
        points of 100.
      </p>
      <dl class="figures">
        <dt>Mixes</dt>
        <dd class="number">{mixes}</dd>
        <dt>Cups</dt>
        <dd class="number">{price.cups}</dd>
        <dt>Sittings</dt>
        <dd class="number">{price.sittings}</dd>
        <dt>Bench time</dt>
        <dd class="number">{duration(work)}</dd>
        <dt>Material</dt>
        <dd class="number">{all.toFixed(1)} g</dd>
        {price.money !== null && (
          <>
            <dt>Money{trial.brief.currency === undefined && ', as priced'}</dt>
            <dd class="number">
              {amount(price.money)} {trial.brief.currency}
            </dd>
          </>
        )}
      </dl>
      {chosen ? (
        <p class="soft">This is the plan below.</p>
      ) : (
        <button type="button" onClick={() => choose(mixes)}>
          Plan {count(mixes, 'mix', 'mixes')}
        </button>
      )}
    </li>
  );
}

/** What the sizes count beside their own mixes. */
function beside(trial: TrialView, plan: PlanDocument): string {
  const made = weighedMixes(trial).length;
  const shared = new Set(plan.mixes.map(({ blend }) => blend)).size < plan.mixes.length / 1.5;
  const held = [
    ...(plan.mixes.some(({ pinned }) => pinned) ? [', and what you hold where it is'] : []),
    ...(shared ? [', one bottle a mix'] : []),
  ].join('');
  return made > 0
    ? `what the ${count(made, 'mix', 'mixes')} made so far have settled${held}`
    : `its own mixes alone, since nothing is weighed yet${held}`;
}

function Knowledge({ trial, plan }: { trial: TrialView; plan: PlanDocument }) {
  const points = (plan.knowledge ?? []).map(({ mixes, shifts }) => ({
    mixes,
    notices: noticed(trial, shifts),
  }));
  const named = (plan.offers ?? []).map(({ mixes, offer }) => ({ mixes, name: NAMES[offer].title }));
  const own = plan.among && {
    mixes: plan.among.mixes,
    notices: noticed(
      trial,
      plan.among.shifts.map(({ shift }) => shift),
    ),
  };
  const title = 'Where more mixes stop paying';
  const data = { title, points, named, own: own ?? null };
  return (
    <Chart
      title={title}
      summary={`${knowledgeSays(data)} Where the line lies flat, another mix teaches little. The ring is the plan below.`}
      of={plan}
      spec={(frame) => knowledgeChart(data, frame)}
      table={{
        head: ['mixes', 'smallest difference noticed'],
        rows: [...points, ...(own ? [own] : [])].map(({ mixes, notices }, k) => [
          k < points.length ? mixes : `${mixes}, the plan below`,
          notices,
        ]),
      }}
    />
  );
}

/** Mean over the questions, in points of a hundred of each scale. */
function noticed(trial: TrialView, shifts: readonly number[]): number {
  const { attributes } = trial.brief;
  const parts = attributes.map(({ scale }, k) => (100 * shifts[k]!) / (scale[1] - scale[0]));
  return parts.reduce((a, b) => a + b, 0) / parts.length;
}

function duration(minutes: number): string {
  if (minutes < 90) return `${Math.round(minutes)} min`;
  return `${(Math.round(minutes / 15) / 4).toLocaleString('en-GB')} h`;
}
