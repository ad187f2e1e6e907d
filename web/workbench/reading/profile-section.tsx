import { aimInWords, distanceOf } from '../../charts/aims.ts';
import { type ProfileData, type ProfilePoint, profileChart } from '../../charts/profile-chart.ts';
import { listed } from '../numbers.ts';
import { Chart } from '../parts/chart.tsx';
import { intervalOf } from './intervals.ts';
import type { ReadingView } from './reading-view.ts';

/** Each mix against the target, nearest first. */
export function ProfileSection({ view }: { view: ReadingView }) {
  const data = profileOf(view);
  const near = data.mixes.filter((mix) => mix !== 'reference').slice(0, 2);
  return (
    <section>
      <h2>Each mix against the target</h2>
      <Chart
        title={data.title}
        summary={
          <>
            Nearest to the target as tasted: {listed(near)}. Whiskers are 95 % intervals of the panel’s
            average; the outlined band is what counts as a match.
          </>
        }
        of={view}
        spec={(frame) => profileChart(data, frame)}
        table={{
          head: ['mix', 'question', 'score', 'from', 'to', 'aim'],
          rows: data.points.map(({ mix, attribute, mean, low, high }) => {
            const aimed = view.attributes.find(({ id }) => id === attribute)!;
            return [mix, aimed.name, mean, low, high, aimInWords(aimed)];
          }),
        }}
      />
    </section>
  );
}

/** The profile of all tasted mixes, nearest to the target on top, the reference last. */
export function profileOf(view: ReadingView): ProfileData {
  const points = view.panel.flatMap(({ id, means }) =>
    means.map((row): ProfilePoint => ({ mix: row.mix, attribute: id, mean: row.mean, ...intervalOf(row) })),
  );
  const mixes = [...new Set(points.map(({ mix }) => mix))].sort(
    (a, b) => rank(view, points, a) - rank(view, points, b),
  );
  return {
    title: 'Scores of each mix beside the target',
    attributes: view.attributes,
    mixes,
    points,
    kind: 'tasted',
  };
}

/** Nearest to the target first, the reference itself last. */
function rank(view: ReadingView, points: readonly ProfilePoint[], mix: string): number {
  if (mix === 'reference') return Number.POSITIVE_INFINITY;
  const scoreOf = (id: string) =>
    points.find((point) => point.mix === mix && point.attribute === id)?.mean ?? null;
  return distanceOf(view.attributes, scoreOf) ?? 0;
}
