import type { Region } from '../../../engine/panel/map/map-regions.ts';
import { mapChart } from '../../charts/map-chart.ts';
import { useLoaded } from '../loaded.ts';
import { modelOf } from '../model/panel-model.ts';
import { Await } from '../parts/await.tsx';
import { Chart } from '../parts/chart.tsx';
import { mapSays } from '../parts/chart-words.ts';
import type { ReadingView } from './reading-view.ts';
import { inSentence } from './trust.ts';

/** Mixes and questions on one map, with how sure each place is. */
export function MapSection({ view }: { view: ReadingView }) {
  const [loaded, again] = useLoaded(`map ${view.stored.reading}`, () => modelOf(view.stored).map());
  return (
    <Await of={loaded} what="the map" again={again}>
      {({ mixes, questions, map: found, reason }) => {
        if (found === null || found.regions.length === 0)
          return <p class="soft">There is no map: {reason}.</p>;
        const { map, regions, pairs } = found;
        const apart = pairs.filter(({ p }) => p !== null && p < 0.05).length;
        const data = {
          title: 'Mixes by how alike they taste',
          mixes: mixes.map((mix, i) => ({
            mix,
            x: map.scores[i]![0]!,
            y: map.scores[i]![1]!,
            outline: regions[i] === undefined ? [] : outlineOf(regions[i]),
          })),
          attributes: questions.map((k, at) => ({
            name: inSentence(view.attributes[k]!.name),
            x: map.loadings[at]![0]!,
            y: map.loadings[at]![1]!,
          })),
          explained: [map.explained[0]!, map.explained[1]!] as const,
        };
        return (
          <Chart
            title={data.title}
            summary={
              <>
                {mapSays(data)} Mixes that lie together taste alike; each may lie anywhere in its outline in
                95 of 100 panels like this one. {apart} of {pairs.length} pairs lie apart.
                {questions.length < view.attributes.length && ' Questions that nobody answered are left out.'}
              </>
            }
            of={loaded}
            spec={(frame) => mapChart(data, frame)}
            table={{
              head: ['mix, or which way a question grows', 'across', 'up'],
              rows: [
                ...data.mixes.map(({ mix, x, y }) => [mix, x, y]),
                ...data.attributes.map(({ name, x, y }) => [name, x, y]),
              ],
            }}
          />
        );
      }}
    </Await>
  );
}

/** An ellipse as a closed line of points. */
function outlineOf({ centre, halfAxes, angle }: Region): [number, number][] {
  return Array.from({ length: 41 }, (_, i) => {
    const turn = (i / 40) * 2 * Math.PI;
    const [a, b] = [halfAxes[0] * Math.cos(turn), halfAxes[1] * Math.sin(turn)];
    return [
      centre[0] + a * Math.cos(angle) - b * Math.sin(angle),
      centre[1] + a * Math.sin(angle) + b * Math.cos(angle),
    ];
  });
}
