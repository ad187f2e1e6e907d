import type { TrialView } from '../../../trials/schema/api.ts';
import { moneyHead } from '../../../trials/schema/money.ts';
import { spentChart } from '../../charts/spent-chart.ts';
import { Chart } from '../parts/chart.tsx';
import { spentSays } from '../parts/chart-words.ts';
import { spentByRound } from './spent-by-round.ts';

/** Grams, money and cups that each round took. */
export function SpentSection({ trial }: { trial: TrialView }) {
  const rounds = spentByRound(trial.brief, trial.roundViews);
  if (rounds.every(({ grams, cups }) => grams === 0 && cups === 0)) return null;
  const { currency } = trial.brief;
  return (
    <>
      <h2>What it took</h2>
      <Chart
        title="What each round took"
        summary={spentSays({ rounds, currency })}
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
