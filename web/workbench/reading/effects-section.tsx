import { type EffectCell, effectsChart } from '../../charts/effects-chart.ts';
import { Chart } from '../parts/chart.tsx';
import { effectsSays } from '../parts/chart-words.ts';
import { Term } from '../parts/term.tsx';
import type { ReadingView } from './reading-view.ts';

/** What more of each component does to each question, as tilted strokes. */
export function EffectsSection({ view }: { view: ReadingView }) {
  const { brief } = view.trial;
  const cells = effectCells(view);
  const title = 'What more of each component does';
  const data = {
    title,
    components: brief.components.map(({ id }) => ({ id, name: id })),
    attributes: view.attributes.map(({ id, name }) => ({ id, name })),
    cells,
  };
  return (
    <section>
      <h2>{title}</h2>
      <Chart
        title="Tilt: how far the score moves from least to most of a component"
        summary={
          <>
            {effectsSays(data)} The whisker is its <Term is="interval">interval</Term>; an empty place means
            that the panel cannot tell. Each is taken <Term is="cox">while the others give way</Term>.
          </>
        }
        of={view}
        spec={(frame) => effectsChart(data, frame)}
        table={{
          head: ['component', 'question', 'change, % of scale', 'from', 'to', 'panel can tell'],
          rows: cells.map((cell) => [
            cell.component,
            view.nameOf(cell.attribute),
            cell.change,
            cell.low,
            cell.high,
            cell.tells ? 'yes' : 'no',
          ]),
        }}
      />
    </section>
  );
}

/** Effects in percent of each scale; the interval is two standard errors either way unless p says otherwise. */
function effectCells(view: ReadingView): EffectCell[] {
  return view.fit.flatMap(({ id, effects }) => {
    const attribute = view.attributes.find((one) => one.id === id);
    const percent = attribute === undefined ? 1 : 100 / (attribute.scale[1] - attribute.scale[0]);
    return effects.flatMap(({ component, change: by, standardError, p }): EffectCell[] => {
      if (by === null || standardError === null) return [];
      const mid = by * percent;
      const half = 2 * standardError * percent;
      return [
        {
          component,
          attribute: id,
          change: mid,
          low: mid - half,
          high: mid + half,
          tells: p !== null && p < 0.05,
        },
      ];
    });
  });
}
