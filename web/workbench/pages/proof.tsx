import type { TrialView } from '../../../trials/schema/api.ts';
import { PageHead } from '../parts/page.tsx';
import { trialAddress } from '../routes.ts';

/** What a blind proof against the reference takes. */
export function ProofPage({ trial }: { trial: TrialView }) {
  return (
    <>
      <PageHead title="Proof">
        A match is proved when tasters, served three coded cups of which two are alike, cannot find the odd
        one.
      </PageHead>
      <p>
        Weigh the best so far afresh, pour it with the reference in three cups, and let each taster name the
        odd one. How many tastings that takes, and what a count of right answers says, is told by{' '}
        <code>dropwise difference triangle</code> on the command line.
      </p>
      <p>
        <a href={trialAddress(trial.trial, 'next')}>The best so far</a>
      </p>
    </>
  );
}
