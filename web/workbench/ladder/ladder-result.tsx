import { EngineError } from '../../../engine/errors.ts';
import type { LadderView, TrialView } from '../../../trials/schema/api.ts';
import { ladderBound, type ThresholdBound } from '../../../trials/schema/ladder-bound.ts';
import { draftOf } from '../brief/draft.ts';
import { withRow } from '../brief/draft-changes.ts';
import { hundredsOf } from '../brief/hundreds.ts';
import { changeKeptDraft } from '../brief/use-brief.ts';
import { figure, listed } from '../numbers.ts';
import { Figures, Warnings } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { Term } from '../parts/term.tsx';
import { trialAddress } from '../routes.ts';
import { readLadder } from './ladder.ts';

/** From where on it is noticed, taster by taster and as a group, and the limits that follow for the brief. */
export function LadderResult({ trial, ladder }: { trial: TrialView; ladder: LadderView }) {
  const { found, missing } = readLadder(ladder);
  if (found === null)
    return (
      <section>
        <h2>What was found</h2>
        <p class="soft">Nothing yet: a taster counts once every rung is answered.</p>
      </section>
    );
  const { threshold, logDeviation, individual, warnings } = found;
  return (
    <section>
      <h2>What was found</h2>
      <p class="lead" role="status">
        Noticed from about {figure(threshold)} mg in a litre of drink on.
      </p>
      <p>
        {logDeviation === null
          ? 'One taster alone: others may notice it sooner or later.'
          : `Two tasters in three lie within a factor of ${figure(10 ** logDeviation, 2)}.`}{' '}
        {missing.length > 0 &&
          `${listed(missing)} ${missing.length === 1 ? 'has' : 'have'} not answered every rung.`}
      </p>
      <Warnings of={warnings} />
      <Limits trial={trial} component={ladder.component} threshold={threshold} />
      <Figures says="taster by taster">
        <Table
          caption="Where each taster begins to notice it"
          rows={individual}
          columns={[
            { head: 'Taster', cell: ({ assessor }) => assessor },
            {
              head: <Term is="ladder">mg a litre</Term>,
              number: true,
              cell: (one) => figure(one.threshold),
            },
          ]}
        />
      </Figures>
    </section>
  );
}

/** The limits as buttons: pressed, they stand in the brief as a change that waits to be saved. */
function Limits({ trial, component, threshold }: { trial: TrialView; component: string; threshold: number }) {
  const bound = boundOf(trial, component, threshold);
  if (typeof bound === 'string') return <p class="soft">{bound}</p>;
  const put = (limit: { low: string } | { high: string }) => {
    changeKeptDraft(`brief:${trial.trial}`, draftOf(trial.brief), (draft) => {
      const index = draft.components.findIndex(({ id }) => id === component);
      return index < 0 ? draft : withRow(draft, 'components', index, limit);
    });
    location.hash = trialAddress(trial.trial, 'brief');
  };
  return (
    <>
      <p>As a limit of the brief, whatever the dose that it allows:</p>
      <div class="row">
        {bound.unnoticed < 1 && bound.unnoticed > 0 && (
          <button type="button" onClick={() => put({ high: hundredsOf(bound.unnoticed) })}>
            Never noticed: at most {hundredsOf(bound.unnoticed)} of 100
          </button>
        )}
        {bound.noticed <= 1 && (
          <button type="button" onClick={() => put({ low: hundredsOf(bound.noticed) })}>
            Always noticed: at least {hundredsOf(bound.noticed)} of 100
          </button>
        )}
      </div>
      {bound.unnoticed >= 1 && <p class="soft">No share of it reaches that in this drink.</p>}
      {bound.noticed > 1 && <p class="soft">No share of it is noticed at every dose.</p>}
    </>
  );
}

function boundOf({ brief }: TrialView, component: string, threshold: number): ThresholdBound | string {
  if (!brief.components.some(({ id }) => id === component))
    return 'No limit follows: the brief no longer holds it.';
  try {
    return ladderBound(brief, component, threshold);
  } catch (thrown) {
    if (!(thrown instanceof EngineError)) throw thrown;
    return 'No limit follows yet: the brief does not name drink, dose and concentrate.';
  }
}
