import { useMemo } from 'preact/hooks';
import { type AimedAttribute, aimInWords, distanceOf } from '../../charts/aims.ts';
import { type ProfileData, type ProfilePoint, profileChart } from '../../charts/profile-chart.ts';
import { Chart } from '../parts/chart.tsx';
import { profileSays } from '../parts/chart-words.ts';
import { endsOf } from '../results.ts';
import { MixesChoice, usePickedMixes } from './picked-mixes.tsx';
import type { ReadingView } from './reading-view.ts';

/** Each mix against the target, nearest first. */
export function ProfileSection({ view }: { view: ReadingView }) {
  const whole = useMemo(() => profileOf(view), [view]);
  const picked = usePickedMixes(view, whole.mixes);
  const data = { ...whole, mixes: picked.mixes };
  return (
    <section>
      <h2>Each mix against the target</h2>
      <MixesChoice view={view} of={picked} total={whole.mixes.length} />
      <Chart
        title={data.title}
        summary={
          <>
            {profileSays(whole)}{' '}
            {whole.points.some(({ low }) => low !== null) &&
              'Whiskers are 95 % intervals of the panel’s average. '}
            The outlined band is what counts as a match.{openEnded(view.attributes)}
          </>
        }
        of={picked.mixes.join('\n')}
        spec={(frame) => profileChart(data, frame)}
        table={{
          head: ['mix', 'question', 'score', 'from', 'to', 'aim'],
          rows: whole.points.map(({ mix, attribute, mean, low, high }) => {
            const aimed = view.attributes.find(({ id }) => id === attribute)!;
            return [mix, aimed.name, mean, low, high, aimInWords(aimed)];
          }),
        }}
      />
    </section>
  );
}

/** The profile of all tasted mixes, nearest to the target on top, the reference last. */
function profileOf(view: ReadingView): ProfileData {
  const points = view.panel.flatMap(({ id, means }) =>
    means.map((row): ProfilePoint => ({ mix: row.mix, attribute: id, mean: row.mean, ...endsOf(row) })),
  );
  return {
    title: 'Scores of each mix beside the target',
    attributes: view.attributes,
    mixes: rankedMixes(view),
    points,
    kind: 'tasted',
  };
}

/** All tasted mixes, nearest to the target first, the reference itself last. */
export function rankedMixes(view: ReadingView): string[] {
  const scores = new Map<string, Map<string, number>>();
  for (const { id, means } of view.panel)
    for (const { mix, mean } of means) scores.set(mix, (scores.get(mix) ?? new Map()).set(id, mean));
  const far = ([mix, own]: [string, ReadonlyMap<string, number>]) =>
    mix === 'reference'
      ? Number.POSITIVE_INFINITY
      : (distanceOf(view.attributes, (id) => own.get(id) ?? null) ?? 0);
  return [...scores]
    .map((entry) => ({ mix: entry[0], far: far(entry) }))
    .sort((a, b) => a.far - b.far || 0)
    .map(({ mix }) => mix);
}

/** What the arrows mean, where a question is aimed at an end of its scale. */
function openEnded(attributes: readonly AimedAttribute[]): string {
  if (!attributes.some(({ aim }) => aim?.kind === 'toward')) return '';
  return ' An arrow points to the end that is aimed at: there is no band to hit, and nearness leaves that question out.';
}
