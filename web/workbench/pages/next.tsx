import { useState } from 'preact/hooks';
import type { Reading, TrialView } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { readNumber } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { Field } from '../parts/field.tsx';
import { JobProgress, useJob } from '../parts/jobs.tsx';
import { Care, PageHead } from '../parts/page.tsx';
import { Unfold } from '../parts/unfold.tsx';
import { latest } from '../results.ts';
import { trialAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { isProof } from '../story.ts';
import { openTrialOf } from '../trial-store.ts';
import { wayOn } from '../way-on.ts';
import { ProposalsShown } from './proposals.tsx';
import { type Tried, WhatIfForm } from './what-if.tsx';

/** The next mixes: what is worth making, beside the best so far, and whether to go on at all. */
export function NextPage({ trial, query }: { trial: TrialView; query: URLSearchParams }) {
  const job = useJob();
  const [number, setNumber] = useState('3');
  const reading = query.get('reading') ?? latest(trial, 'next');
  const wanted = readNumber(number);
  const fault =
    wanted === null || wanted < 1 || wanted > 20 || !Number.isInteger(wanted) ? 'from 1 to 20' : undefined;
  const start = async (tried: Tried = {}) => {
    if (fault !== undefined) return;
    const done = await job.run(trial.trial, () =>
      ask('startNext', { trial: trial.trial }, { count: wanted!, ...tried }),
    );
    if (done === null) return;
    const goOn = wayOn();
    await openTrialOf(trial.trial);
    goOn(trialAddress(trial.trial, 'next', { reading: done.reading }));
  };
  const nothing = trial.roundViews.length === 0;
  const stale = reading !== null && madeSince(trial, reading);
  const first = reading === null || stale;
  return (
    <>
      <PageHead title="Next mixes">
        {reading === null ? 'What is most worth mixing now, from all scores so far.' : undefined}
      </PageHead>
      {nothing ? (
        <p>
          There is nothing to go by yet. <a href={trialAddress(trial.trial, 'plan')}>Plan the first mixes</a>
        </p>
      ) : (
        <form
          class="row"
          noValidate
          onSubmit={(event) => {
            event.preventDefault();
            void start();
          }}
        >
          <Field label="How many?" class="narrow" number value={number} change={setNumber} fault={fault} />
          <button type="submit" class={first ? 'do' : undefined} disabled={job.job !== null}>
            {reading === null ? 'Propose mixes' : 'Propose anew'}
          </button>
        </form>
      )}
      <JobProgress of={job} what="Looking for the next mixes" />
      {stale && job.job === null && (
        <Care>
          <p>
            These were proposed before the latest round: what it has taught is not in them. Propose anew once
            it is read.
          </p>
        </Care>
      )}
      {reading !== null && job.job === null && (
        <Stored key={reading} trial={trial} reading={reading} stale={stale} />
      )}
      {reading !== null && (
        <Unfold says="What if the target or a limit were another, or something runs short?">
          <WhatIfForm trial={trial} busy={job.job !== null} look={(tried) => void start(tried)} />
        </Unfold>
      )}
    </>
  );
}

/** Whether scores were read, or these very proposals made, after they were proposed. */
function madeSince({ readings, roundViews }: TrialView, reading: string): boolean {
  const at = readings.find((one) => one.reading === reading)?.at;
  const read = readings.find(({ kind }) => kind === 'read')?.at;
  return (
    roundViews.some((round) => round.reading === reading && !isProof(round)) ||
    (at !== undefined && read !== undefined && read > at)
  );
}

function Stored({ trial, reading, stale }: { trial: TrialView; reading: string; stale: boolean }) {
  const [loaded, again] = useLoaded(reading, async () => {
    const stored = await ask('readShown', { trial: trial.trial, reading });
    return { stored, read: await latestRead(trial) };
  });
  return (
    <Await of={loaded} what="the proposals" again={again}>
      {({ stored, read }) => <ProposalsShown trial={trial} stored={stored} read={read} stale={stale} />}
    </Await>
  );
}

/** The reading that says where the reference was scored. */
async function latestRead(trial: TrialView): Promise<Reading | null> {
  const reading = latest(trial, 'read');
  return reading === null ? null : ask('readShown', { trial: trial.trial, reading });
}
