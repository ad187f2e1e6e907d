import { roundsChart } from '../../charts/rounds-chart.ts';
import { Chart } from '../parts/chart.tsx';
import { roundsSays } from '../parts/chart-words.ts';
import { Term } from '../parts/term.tsx';
import type { ReadingView } from '../reading/reading-view.ts';
import { roundDistances } from '../reading/round-distances.ts';

/** How near each round came. */
export function RoundsSection({ view }: { view: ReadingView }) {
  const points = roundDistances(view);
  if (points.length === 0) return null;
  return (
    <Chart
      title="How near each round came to the target"
      summary={
        <>
          {roundsSays({ points })} <Term is="distance">Distance</Term> is never below nothing, so noise alone
          keeps even a perfect match away from it.
        </>
      }
      of={view}
      spec={(frame) => roundsChart({ title: 'Distance to the target by round', points }, frame)}
      table={{
        head: ['round', 'mix', 'distance', 'from', 'to'],
        rows: points.map(({ round, mix, distance, low, high }) => [round, mix, distance, low, high]),
      }}
    />
  );
}
