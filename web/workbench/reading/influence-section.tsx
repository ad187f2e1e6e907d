import { useState } from 'preact/hooks';
import { type InfluenceData, influenceChart } from '../../charts/influence-chart.ts';
import { Chart } from '../parts/chart.tsx';
import { influenceSays } from '../parts/chart-words.ts';
import { Choice } from '../parts/field.tsx';
import { Term } from '../parts/term.tsx';
import type { ReadingView } from './reading-view.ts';
import { inSentence } from './trust.ts';

/** What the model of one question owes to each mix, for those who want to know whether one mix decides it. */
export function InfluenceSection({ view }: { view: ReadingView }) {
  const told = view.fit.filter(({ influence }) => influence?.some(({ shift }) => shift !== null));
  const [id, setId] = useState(told[0]?.id ?? '');
  const fit = told.find((one) => one.id === id);
  if (fit === undefined) return <p class="soft">{whyNot(view)}</p>;
  const name = view.nameOf(fit.id);
  const data: InfluenceData = {
    title: `How far the model of ${inSentence(name)} moves where a mix is left out`,
    rows: fit.influence ?? [],
    terms: fit.terms.length,
  };
  return (
    <>
      <Choice
        label="Question"
        class="narrow-choice"
        value={fit.id}
        change={setId}
        options={told.map((one) => [one.id, view.nameOf(one.id)] as const)}
      />
      <Chart
        title={data.title}
        summary={
          <>
            {influenceSays(data)} Strokes lead from where the model would be without the mix, in{' '}
            <Term is="standardError">standard errors</Term>; beyond the dashed lines a mix is worth a second
            look. A ring: most of what is known there it says by itself.
          </>
        }
        of={data.title}
        spec={(frame) => influenceChart(data, frame)}
        table={{
          head: ['mix', 'points', 'standard errors', 'leverage', 'Cook’s distance'],
          rows: data.rows.map(({ mix, moves, shift, leverage, distance }) => [
            ...[mix, moves, shift],
            ...[leverage, distance],
          ]),
        }}
      />
    </>
  );
}

function whyNot({ fit }: ReadingView): string {
  if (fit.every(({ influence }) => influence === undefined))
    return 'This reading was made before influence was told: read the scores again.';
  const reason = fit.flatMap(({ influence }) => influence?.flatMap((mix) => mix.reason ?? []) ?? [])[0];
  return `What each mix does to the models cannot be told${reason === undefined ? '' : `: ${reason}`}.`;
}
