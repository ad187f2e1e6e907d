import { useMemo, useState } from 'preact/hooks';
import type { Reading, TrialView } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { count } from '../numbers.ts';
import { AcceptRound } from '../parts/accept-round.tsx';
import { Await } from '../parts/await.tsx';
import { JobProgress, useJob } from '../parts/jobs.tsx';
import { PageHead, Warnings } from '../parts/page.tsx';
import { type PlanDocument, planOf } from '../results.ts';
import { trialAddress } from '../routes.ts';
import { ask } from '../server.ts';
import {
  asPlace,
  costWords,
  type Draft,
  isChanged,
  judgeOf,
  UNCHANGED,
  withHeld,
  withMoved,
  withUnwanted,
} from './draft.ts';
import { MixEntry } from './mix-entry.tsx';
import { planFaultWords } from './plan-fault-words.ts';
import { PlanFigures } from './plan-figures.tsx';
import { PlanForm } from './plan-form.tsx';
import { PlanReach } from './plan-reach.tsx';
import { PlanRegion } from './plan-region.tsx';
import { PlanRehearsal } from './plan-rehearsal.tsx';
import { PlanSizes } from './plan-sizes.tsx';
import { PlanTakes } from './plan-takes.tsx';
import type { PlanBody } from './plan-wishes.ts';

/** Asks for a plan, shows what came of it mix by mix, lets the maker change it, and makes a round of it. */
export function PlanPage({ trial, query }: { trial: TrialView; query: URLSearchParams }) {
  const job = useJob();
  const reading = query.get('reading') ?? latestPlan(trial);
  const start = async (body: PlanBody) => {
    const asked = { ...body, compare: true };
    const done = await job.run(trial.trial, () => ask('startPlan', { trial: trial.trial }, asked));
    if (done !== null) location.hash = trialAddress(trial.trial, 'plan', { reading: done.reading });
  };
  const first = trial.roundViews.length === 0;
  const busy = job.job !== null;
  return (
    <>
      <PageHead title={first ? 'Plan the first mixes' : 'Plan more mixes'}>
        The fewest mixes, all of them weighable on your scale, that teach the most about how the ratios move
        the flavour.
      </PageHead>
      <PlanForm trial={trial} start={(body) => void start(body)} busy={busy} first={reading === null} />
      <JobProgress of={job} what="Planning" words={(fault) => planFaultWords(trial.brief, fault)} />
      {reading !== null && !busy && (
        <StoredPlan key={reading} trial={trial} reading={reading} start={(body) => void start(body)} />
      )}
    </>
  );
}

function latestPlan(trial: TrialView): string | null {
  const used = new Set(trial.roundViews.map(({ reading }) => reading));
  return trial.readings.find(({ kind, reading }) => kind === 'plan' && !used.has(reading))?.reading ?? null;
}

interface StoredProps {
  trial: TrialView;
  reading: string;
  start: (body: PlanBody) => void;
}

function StoredPlan({ trial, reading, start }: StoredProps) {
  const [loaded, again] = useLoaded(reading, () => ask('readShown', { trial: trial.trial, reading }));
  return (
    <Await of={loaded} what="the plan" again={again}>
      {(stored) => <PlanShown trial={trial} stored={stored} start={start} />}
    </Await>
  );
}

interface ShownProps {
  trial: TrialView;
  stored: Reading;
  start: (body: PlanBody) => void;
}

function PlanShown({ trial, stored, start }: ShownProps) {
  const plan = planOf(stored);
  const [draft, setDraft] = useState<Draft>(UNCHANGED);
  const judge = useMemo(() => judgeOf(trial, plan), [trial, plan]);
  const kept = plan.mixes.filter(({ mix }) => !draft.unwanted.has(mix));
  const replan = () => start(bodyFor(trial, stored, draft));
  return (
    <section>
      <PlanSizes trial={trial} plan={plan} choose={(mixes) => start(sizedBody(stored, plan, mixes))} />
      <h2>{count(plan.mixes.length, 'mix', 'mixes')}</h2>
      <PlanTakes trial={trial} plan={plan} kept={kept} />
      <Warnings of={plan.warnings} />
      <PlanRegion trial={trial} plan={plan} draft={draft} />
      <ol class="mixes">
        {plan.mixes.map((mix) => (
          <MixEntry
            key={mix.mix}
            trial={trial}
            mix={mix}
            draft={draft}
            hold={(on) => setDraft(withHeld(draft, mix.mix, on))}
            keep={(on) => setDraft(withUnwanted(draft, mix.mix, !on))}
            move={(steps) => setDraft(withMoved(draft, mix.mix, steps))}
          />
        ))}
      </ol>
      <PlanReach trial={trial} plan={plan} />
      <PlanRehearsal trial={trial} plan={plan} stored={stored} start={start} />
      <PlanFigures plan={plan} seed={stored.seed} />
      {isChanged(draft) && (
        <div class="changed-plan" role="status">
          <p>
            {judge === null
              ? 'What this costs shows once it is planned anew.'
              : costWords(judge(UNCHANGED), judge(draft))}
          </p>
          <div class="row">
            <button type="button" class="do" onClick={replan}>
              Plan the rest around this
            </button>
            <button type="button" class="quiet" onClick={() => setDraft(UNCHANGED)}>
              Back to the plan as it was
            </button>
          </div>
        </div>
      )}
      {draft.moved.size === 0 && (
        <AcceptRound
          trial={trial}
          of={{
            reading: stored.reading,
            ...(draft.unwanted.size > 0 ? { only: kept.map(({ mix }) => mix) } : {}),
          }}
        />
      )}
    </section>
  );
}

/** Another number of mixes in the model that the sizes are judged in, with all else that was asked for. */
function sizedBody(stored: Reading, { comparedIn }: PlanDocument, mixes: number): PlanBody {
  const { options } = stored.input as { options: PlanBody };
  const model = comparedIn as PlanBody['model'];
  const { screen: _, rehearse: __, ...kept } = options;
  return { ...kept, mixes, replicated: 0, ...(model ? { model } : {}) };
}

/** The same number of mixes, with held ones where they stand and away from unwanted ones. */
function bodyFor(trial: TrialView, stored: Reading, draft: Draft): PlanBody {
  const { mixes } = planOf(stored);
  const { options } = stored.input as { options: PlanBody };
  const held = mixes.filter(({ mix, pinned }) => draft.held.has(mix) || (pinned && !draft.unwanted.has(mix)));
  const unwanted = mixes.filter(({ mix }) => draft.unwanted.has(mix));
  const { pinned: _, points: __, rehearse: ___, forbidden = [], ...kept } = options;
  const room = mixes.length - held.length - 1;
  return {
    ...kept,
    mixes: mixes.length,
    replicated: Math.max(0, Math.min(options.replicated ?? 0, room)),
    pinned: held.map((mix) => asPlace(trial, draft, mix)),
    forbidden: [...forbidden, ...unwanted.map((mix) => asPlace(trial, UNCHANGED, mix))],
  };
}
