import { aimInWords, missOf } from '../../charts/aims.ts';
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

function rank(view: ReadingView, points: readonly ProfilePoint[], mix: string): number {
  return mix === 'reference' ? Number.POSITIVE_INFINITY : tastedDistance(view, points, mix);
}

/** Root of the mean of squared misses, in percent of each scale, over the attributes with a target to miss. */
function tastedDistance(view: ReadingView, points: readonly ProfilePoint[], mix: string): number {
  const misses = points
    .filter((point) => point.mix === mix)
    .flatMap((point) => {
      const attribute = view.attributes.find(({ id }) => id === point.attribute);
      const miss = attribute === undefined ? null : missOf(attribute, point.mean);
      return miss === null ? [] : [(100 * miss) / (attribute!.scale[1] - attribute!.scale[0])];
    });
  return Math.sqrt(misses.reduce((sum, miss) => sum + miss * miss, 0) / Math.max(1, misses.length));
}
