import type { SittingSummary, TrialView } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { count, figure, probability } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { Figures } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { type Answer, ask } from '../server.ts';

/** What a difference test came to, once its key is open. */
export function TestResult({ trial, sitting }: { trial: TrialView; sitting: SittingSummary }) {
  const [reading, again] = useLoaded(`test ${sitting.sitting} ${sitting.answers}`, () =>
    ask('readTest', { trial: trial.trial, sitting: sitting.sitting }),
  );
  return (
    <section>
      <h2>Can they be told apart?</h2>
      <Await of={reading} what="the answers" again={again}>
        {(found) => <Told of={found} />}
      </Await>
    </section>
  );
}

function Told({ of: { trials, correct, byAssessor, result } }: { of: Answer<'readTest'> }) {
  if (result === null) return <p class="soft">Nobody has answered a set.</p>;
  const { says, p, needed, proportionAbove, interval, dPrime } = result;
  return (
    <>
      <p class="lead">{says}</p>
      <p>
        {correct} of {count(trials, 'set')} right.
      </p>
      <Figures>
        <dl class="figures">
          <dt>chance of so many by guessing</dt>
          <dd>{probability(p)}</dd>
          <dt>fewest right answers that would do (0.05)</dt>
          <dd>{needed ?? 'no number would'}</dd>
          <dt>share of tasters who can tell</dt>
          <dd>
            {figure(proportionAbove)} (95 % interval {interval.map((end) => figure(end)).join(' to ')})
          </dd>
          <dt>distance d′</dt>
          <dd>{dPrime === null ? 'all were right: no upper end' : figure(dPrime)}</dd>
        </dl>
        <Table
          caption="Taster by taster"
          rows={byAssessor}
          columns={[
            { head: 'Taster', cell: ({ assessor }) => assessor },
            { head: 'Sets', number: true, cell: (one) => one.trials },
            { head: 'Right', number: true, cell: (one) => one.correct },
          ]}
        />
      </Figures>
    </>
  );
}
