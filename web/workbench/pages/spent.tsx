import type { TrialView } from '../../../trials/schema/api.ts';
import { money, moneyHead } from '../../../trials/schema/money.ts';
import { type RoundSpent, spentChart } from '../../charts/spent-chart.ts';
import { count } from '../numbers.ts';
import { Chart } from '../parts/chart.tsx';
import { spentByRound } from './spent-by-round.ts';

/** Grams, money and cups that each round took. */
export function SpentSection({ trial }: { trial: TrialView }) {
  const rounds = spentByRound(trial.brief, trial.roundViews);
  if (rounds.every(({ grams, cups }) => grams === 0 && cups === 0)) return null;
  const sum = (of: (round: RoundSpent) => number | null) =>
    rounds.reduce((total, round) => total + (of(round) ?? 0), 0);
  const { currency } = trial.brief;
  const priced = rounds.every((round) => round.money !== null);
  return (
    <>
      <h2>What it took</h2>
      <Chart
        title="What each round took"
        summary={`In all ${sum(({ grams }) => grams).toFixed(1)} g of material as weighed${
          priced
            ? `, ${money(
                sum((round) => round.money),
                currency,
              )}`
            : ''
        } and ${count(
          sum(({ cups }) => cups),
          'cup',
        )}.${priced ? '' : ' Money is not told, since a price is missing in the brief.'}`}
        of={trial}
        spec={(frame) => spentChart({ title: 'What each round took', rounds, currency }, frame)}
        table={{
          head: ['round', 'grams', moneyHead(currency), 'cups'],
          rows: rounds.map((one) => [one.round, one.grams, one.money, one.cups]),
        }}
      />
    </>
  );
}
