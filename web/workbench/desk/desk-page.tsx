import type { TrialView } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { Await } from '../parts/await.tsx';
import { PageHead } from '../parts/page.tsx';
import { type Candidate, latest, nextOf } from '../results.ts';
import { trialAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { DeskBench } from './desk-bench.tsx';

/** The desk: move a share and see the flavour move, with how sure the panel is. */
export function DeskPage({ trial, query }: { trial: TrialView; query: URLSearchParams }) {
  const next = latest(trial, 'next');
  const [best, again] = useLoaded(next ?? 'none', () => bestOf(trial, next));
  return (
    <>
      <PageHead title="The desk">Drag a seam and see the flavour move. Tap a share to lock it.</PageHead>
      <Await of={best} what="the best so far" again={again}>
        {(found) => <DeskBench trial={trial} best={found} query={query} />}
      </Await>
      <p class="soft">
        <a href={trialAddress(trial.trial, 'next')}>Next mixes</a> says what is most worth making.
      </p>
    </>
  );
}

/** What was found best when mixes were last proposed; null where none were. */
async function bestOf(trial: TrialView, reading: string | null): Promise<Candidate | null> {
  return reading === null ? null : nextOf(await ask('readShown', { trial: trial.trial, reading })).best;
}
