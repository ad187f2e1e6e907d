import { type MissPoint, missesChart } from '../../charts/misses-chart.ts';
import { useLoaded } from '../loaded.ts';
import { modelOf } from '../model/panel-model.ts';
import { Await } from '../parts/await.tsx';
import { Chart } from '../parts/chart.tsx';
import { missesSays } from '../parts/chart-words.ts';
import { endsOf } from '../results.ts';
import type { ReadingView } from './reading-view.ts';

/** Where the models miss: each mix as expected and as tasted. */
export function MissesSection({ view }: { view: ReadingView }) {
  const [loaded, again] = useLoaded(`misses ${view.stored.reading}`, () => missPoints(view));
  return (
    <Await of={loaded} what="what the models expect" again={again}>
      {(points) => {
        const data = { title: 'Tasted and expected', attributes: view.attributes, points };
        return (
          <Chart
            title="Each mix as tasted and as the models expect it"
            summary={<>On the slanted line both agree. {missesSays(data)}</>}
            of={points}
            spec={(frame) => missesChart(data, frame)}
            table={{
              head: ['mix', 'question', 'expected', 'tasted', 'tasted from', 'tasted to'],
              rows: points.map(({ mix, attribute, expected, tasted, low, high }) => [
                mix,
                view.nameOf(attribute),
                expected,
                tasted,
                low,
                high,
              ]),
            }}
          />
        );
      }}
    </Await>
  );
}

async function missPoints(view: ReadingView): Promise<MissPoint[]> {
  const { settings } = view.trial.brief;
  const points = view.mixes.map((mix) => ({
    shares: mix.shares,
    settings: settings.map(({ id, low }) => mix.settings[id] ?? low),
  }));
  const scores = await modelOf(view.stored).scores(points);
  return view.panel.flatMap(({ id, means }, k) =>
    view.mixes.flatMap(({ mix }, i): MissPoint[] => {
      const tasted = means.find((row) => row.mix === mix);
      const expected = scores[k]?.mean[i];
      if (tasted === undefined || expected === undefined) return [];
      return [{ mix, attribute: id, expected, tasted: tasted.mean, ...endsOf(tasted) }];
    }),
  );
}
