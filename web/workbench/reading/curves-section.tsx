import { useState } from 'preact/hooks';
import { type CurvePoint, curvesChart } from '../../charts/curves-chart.ts';
import { useLoaded } from '../loaded.ts';
import { modelOf } from '../model/panel-model.ts';
import { Await } from '../parts/await.tsx';
import { Chart } from '../parts/chart.tsx';
import { curvesSays } from '../parts/chart-words.ts';
import { Choice } from '../parts/field.tsx';
import { Term } from '../parts/term.tsx';
import { readOf } from '../results.ts';
import type { ReadingView } from './reading-view.ts';

const STEPS = 24;

/** Every question along the way from least to most of one component, with bands. */
export function CurvesSection({ view }: { view: ReadingView }) {
  const { components } = view.trial.brief;
  const [id, setId] = useState(components[0]!.id);
  return (
    <>
      <Choice
        label="More of"
        class="narrow-choice"
        value={id}
        change={setId}
        options={components.map((component) => [component.id, component.name] as const)}
      />
      <Curves key={id} view={view} component={id} />
    </>
  );
}

function Curves({ view, component }: { view: ReadingView; component: string }) {
  const [loaded, again] = useLoaded(`${view.stored.reading} ${component}`, () =>
    curvePoints(view, component),
  );
  return (
    <Await of={loaded} what="the curves" again={again}>
      {(points) => {
        const data = { title: `More ${component}`, component, attributes: view.attributes, points };
        return (
          <Chart
            title={`Every question as ${component} goes from least to most`}
            summary={
              <>
                {curvesSays(data)} From the middle of what is allowed,{' '}
                <Term is="cox">the others giving way</Term>. The band is the{' '}
                <Term is="interval">95 % interval</Term>; below each picture stand the parts of a hundred.
              </>
            }
            of={points}
            spec={(frame) => curvesChart(data, frame)}
            table={{
              head: ['question', `${component}, parts of 100`, 'predicted', 'from', 'to'],
              rows: points.map(({ attribute, parts, mean, low, high }) => [
                view.nameOf(attribute),
                parts,
                mean,
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

/** Along Cox's direction through the centroid: the component is set, the others keep their ratios. */
async function curvePoints(view: ReadingView, component: string): Promise<CurvePoint[]> {
  const { centroid, low, high } = readOf(view.stored).fit.region;
  const { components, settings } = view.trial.brief;
  const at = components.findIndex(({ id }) => id === component);
  const rest = 1 - centroid[at]!;
  const shares = Array.from({ length: STEPS + 1 }, (_, i) => low[at]! + ((high[at]! - low[at]!) * i) / STEPS);
  const points = shares.map((share) => ({
    shares: centroid.map((c, i) => (i === at ? share : rest > 0 ? (c * (1 - share)) / rest : 0)),
    settings: settings.map((setting) => (setting.low + setting.high) / 2),
  }));
  const scores = await modelOf(view.stored).scores(points);
  return view.attributes.flatMap(({ id }, k) => {
    const found = scores[k];
    if (!found) return [];
    return shares.map((share, i) => ({
      attribute: id,
      parts: 100 * share,
      mean: found.mean[i]!,
      low: found.low[i]!,
      high: found.high[i]!,
    }));
  });
}
