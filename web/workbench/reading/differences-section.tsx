import { useMemo, useState } from 'preact/hooks';
import { differencesChart } from '../../charts/differences-chart.ts';
import { useLoaded } from '../loaded.ts';
import { count, probability } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { Chart } from '../parts/chart.tsx';
import { differencesSays } from '../parts/chart-words.ts';
import { Choice } from '../parts/field.tsx';
import { Table } from '../parts/table.tsx';
import { Term } from '../parts/term.tsx';
import { Unfold } from '../parts/unfold.tsx';
import { type AttributeReading, endsOf } from '../results.ts';
import { ask } from '../server.ts';
import { AnswersPart } from './answers-part.tsx';
import { groupsAmong } from './pick-mixes.ts';
import { MixesChoice, usePickedMixes } from './picked-mixes.tsx';
import { rankedMixes } from './profile-section.tsx';
import type { ReadingView } from './reading-view.ts';

/** Differences that are real and differences that are not, one question at a time. */
export function DifferencesSection({ view }: { view: ReadingView }) {
  const [id, setId] = useState(view.panel[0]?.id ?? '');
  const one = view.panel.find((attribute) => attribute.id === id);
  if (one === undefined) return null;
  return (
    <section>
      <h2>What differs</h2>
      <Choice
        label="Question"
        class="narrow-choice"
        value={id}
        change={setId}
        options={view.panel.map((attribute) => [attribute.id, view.nameOf(attribute.id)] as const)}
      />
      <OneQuestion key={id} view={view} one={one} />
    </section>
  );
}

function OneQuestion({ view, one }: { view: ReadingView; one: AttributeReading }) {
  const attribute = view.attributes.find(({ id }) => id === one.id)!;
  const ranked = useMemo(() => rankedMixes(view), [view]);
  const { all, apart } = one.pairs ?? { all: 0, apart: 0 };
  const title = `Mixes from strong to weak: ${attribute.name}`;
  const picked = usePickedMixes(view, ranked);
  const shown = new Set(picked.mixes);
  const means = one.means
    .filter(({ mix }) => shown.has(mix))
    .map((row) => ({ mix: row.mix, mean: row.mean, ...endsOf(row) }));
  const groups = groupsAmong(one.groups, shown);
  const data = { title, attribute, means, groups };
  return (
    <>
      <MixesChoice view={view} of={picked} total={one.means.length} />
      <Chart
        title={title}
        summary={
          <>
            {one.says} {differencesSays(data)}{' '}
            {all > 0 && `It tells ${count(apart, 'pair')} of ${all} apart. `}
            {groups.length > 0 && (
              <>
                Mixes joined by one <Term is="bracket">bracket</Term> cannot be told apart.
              </>
            )}
          </>
        }
        of={`${one.id} ${picked.mixes.join('\n')}`}
        spec={(frame) => differencesChart(data, frame)}
        table={{
          head: ['mix', 'score', 'from', 'to'],
          rows: means.map(({ mix, mean, low, high }) => [mix, mean, low, high]),
        }}
      />
      <AnswersPart one={one} asked={view.trial.brief.attributes.find(({ id }) => id === one.id)} />
      <Unfold says="every pair">
        <EveryPair view={view} attribute={one.id} shown={shown} />
      </Unfold>
    </>
  );
}

interface EveryPairProps {
  view: ReadingView;
  attribute: string;
  shown: ReadonlySet<string>;
}

/** The pairs of the mixes that are shown, fetched when they are looked at. */
function EveryPair({ view, attribute, shown }: EveryPairProps) {
  const { reading } = view.stored;
  const [loaded, again] = useLoaded(`${reading} ${attribute}`, () =>
    ask('readPairs', { trial: view.trial.trial, reading, attribute }),
  );
  return (
    <Await of={loaded} what="every pair" again={again}>
      {(pairs) => (
        <Table
          caption="Differences, p after Tukey"
          rows={pairs.filter(({ a, b }) => shown.has(a) && shown.has(b))}
          columns={[
            { head: 'Pair', cell: ({ a, b }) => `${a} and ${b}` },
            { head: 'difference', value: ({ difference }) => difference },
            { head: 'standard error', value: ({ standardError }) => standardError },
            { head: 'p', number: true, cell: ({ p }) => probability(p) },
          ]}
        />
      )}
    </Await>
  );
}
