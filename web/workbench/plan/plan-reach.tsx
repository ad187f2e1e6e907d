import type { TrialView } from '../../../trials/schema/api.ts';
import { reachChart } from '../../charts/reach-chart.ts';
import { Chart } from '../parts/chart.tsx';
import { reachSays } from '../parts/chart-words.ts';
import { weighedMixes } from '../reading/reading-view.ts';
import type { PlanDocument } from '../results.ts';

/** How far the plan reaches, beside what has been made already. */
export function PlanReach({ trial, plan }: { trial: TrialView; plan: PlanDocument }) {
  const made = weighedMixes(trial);
  const ids = trial.brief.components.map(({ id }) => id);
  const partsOf = (shares: readonly number[]) =>
    Object.fromEntries(ids.map((id, i) => [id, 100 * shares[i]!]));
  const data = {
    title: 'How far the mixes reach into what is allowed',
    components: trial.brief.components.map(({ id, low, high }) => ({ id, low: 100 * low, high: 100 * high })),
    mixes: [
      ...plan.mixes.map(({ mix, ratios }) => ({
        mix,
        planned: true,
        parts: partsOf(ids.map((id) => ratios[id] ?? 0)),
      })),
      ...made.map(({ mix, shares }) => ({ mix, planned: false, parts: partsOf(shares) })),
    ],
  };
  return (
    <Chart
      title={data.title}
      summary={`${reachSays(data)} ${
        made.length > 0
          ? 'A stroke for each mix: planned ones in the colour of the liquid, weighed ones in ink.'
          : 'A stroke for each mix on what the brief allows of each component.'
      }`}
      of={plan}
      spec={(frame) => reachChart(data, frame)}
      table={{
        head: ['mix', ...ids],
        rows: data.mixes.map(({ mix, parts }) => [mix, ...ids.map((id) => parts[id]!)]),
      }}
    />
  );
}
