import type { TrialView } from '../../../trials/schema/api.ts';
import { PageHead } from '../parts/page.tsx';
import { trialAddress } from '../routes.ts';
import { DeskBench } from './desk-bench.tsx';

/** The desk: move a share and see the flavour move, with how sure the panel is. */
export function DeskPage({ trial, query }: { trial: TrialView; query: URLSearchParams }) {
  return (
    <>
      <PageHead title="The desk">Drag a seam and see the flavour move. Tap a share to lock it.</PageHead>
      <DeskBench trial={trial} query={query} />
      <p class="soft">
        <a href={trialAddress(trial.trial, 'next')}>Next mixes</a> says what is most worth making.
      </p>
    </>
  );
}
