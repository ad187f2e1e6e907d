import { useState } from 'preact/hooks';
import type { RoundView, SittingSummary, TrialView } from '../../../trials/schema/api.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { count } from '../numbers.ts';
import { Trouble } from '../parts/await.tsx';
import { Field } from '../parts/field.tsx';
import { Onward } from '../parts/onward.tsx';
import { PageHead } from '../parts/page.tsx';
import { Sure } from '../parts/sure.tsx';
import { Term } from '../parts/term.tsx';
import { Unfold } from '../parts/unfold.tsx';
import { stepAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { openTrial, openTrialOf } from '../trial-store.ts';
import { CarriedCodes } from './carried.tsx';
import { CupNames } from './cup-names.tsx';
import { LiveTrays } from './live-trays.tsx';
import { PaperEntry } from './paper-entry.tsx';
import { PhoneLinks } from './phone-links.tsx';
import { TestResult } from './test-result.tsx';
import { WhoCame } from './who-came.tsx';

interface PageProps {
  trial: TrialView;
  round: RoundView;
  query: URLSearchParams;
}

/** The tasting as it goes: links for the phones, trays whose cups fill. */
export function TastePage({ trial, round, query }: PageProps) {
  const asked = round.sittings.find(({ sitting }) => sitting === query.get('sitting'));
  const sitting = asked ?? round.sittings.find(({ state }) => state !== 'closed') ?? round.sittings.at(-1);
  return (
    <>
      <PageHead title={`Round ${round.round}: taste`}>
        {sitting === undefined ? 'No codes are drawn yet.' : standsAt(sitting)}
      </PageHead>
      {round.sittings.length > 1 && <SittingTabs trial={trial} round={round} here={sitting!.sitting} />}
      {sitting === undefined ? (
        <a class="button do" href={stepAddress(trial.trial, round.round, 'pour')}>
          Draw the codes
        </a>
      ) : (
        <SittingView key={sitting.sitting} trial={trial} sitting={sitting} />
      )}
      <Onward trial={trial} round={round} step="taste" />
    </>
  );
}

function standsAt({ label, state, answers, answersExpected, old }: SittingSummary): string {
  if (old) return `${label} was entered from old files: ${answers} of ${answersExpected} answers.`;
  if (state === 'poured') return `${label} is poured. Phones wait until you begin.`;
  if (state === 'open') return `${label}: ${answers} of ${answersExpected} answers are in.`;
  return `${label} is over: ${answers} of ${answersExpected} answers.`;
}

function SittingTabs({ trial, round, here }: { trial: TrialView; round: RoundView; here: string }) {
  return (
    <ul class="rack" aria-label="Sittings">
      {round.sittings.map(({ sitting, label, state }) => (
        <li key={sitting}>
          <a
            class={state === 'closed' ? 'bottle full' : 'bottle'}
            aria-current={sitting === here ? 'true' : undefined}
            href={stepAddress(trial.trial, round.round, 'taste', { sitting })}
          >
            {label}
          </a>
        </li>
      ))}
    </ul>
  );
}

function SittingView({ trial, sitting }: { trial: TrialView; sitting: SittingSummary }) {
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const act = async (route: 'openSitting' | 'closeSitting' | 'simulateSitting') => {
    setTrouble(null);
    try {
      await ask(route, { trial: trial.trial, sitting: sitting.sitting });
      await openTrialOf(trial.trial);
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
    }
  };
  return (
    <>
      <div class="row">
        {sitting.state === 'poured' && (
          <button type="button" class="do" onClick={() => void act('openSitting')}>
            Begin the tasting
          </button>
        )}
        {sitting.state === 'open' && (
          <EndButton trial={trial} sitting={sitting} end={() => act('closeSitting')} />
        )}
        {trial.demo && sitting.state !== 'closed' && (
          <button type="button" onClick={() => void act('simulateSitting')}>
            Let the invented tasters answer
          </button>
        )}
      </div>
      <Trouble of={trouble} />
      <LiveTrays trial={trial} sitting={sitting} />
      {sitting.state === 'closed' && sitting.unnamed.length > 0 ? (
        <CupNames trial={trial} sitting={sitting} />
      ) : (
        <KeySection key={sitting.state} trial={trial} sitting={sitting} />
      )}
      {sitting.key === 'opened' && sitting.test !== null && <TestResult trial={trial} sitting={sitting} />}
      <AtHand trial={trial} sitting={sitting} />
      {sitting.state !== 'closed' && <PhoneLinks trial={trial} sitting={sitting} />}
    </>
  );
}

/** Ends the tasting at once where every answer is in by the latest count, else on a second word. */
function EndButton({
  trial,
  sitting,
  end,
}: {
  trial: TrialView;
  sitting: SittingSummary;
  end: () => unknown;
}) {
  const complete = async () => {
    await openTrialOf(trial.trial);
    const open = openTrial.value;
    const rounds = open.state === 'here' ? open.value.roundViews : trial.roundViews;
    const now = rounds.flatMap(({ sittings }) => sittings).find((one) => one.sitting === sitting.sitting);
    return now !== undefined && now.answers >= now.answersExpected;
  };
  const missing = sitting.answersExpected - sitting.answers;
  return (
    <Sure says="End the tasting" yes="End it all the same" act={end} plain={complete} filled>
      {count(missing, 'answer is', 'answers are')} not in yet. Once the key is open, what comes later is kept
      but not read.
    </Sure>
  );
}

/** What goes otherwise than planned: somebody late or absent, a phone without a line, a ballot on paper. */
function AtHand({ trial, sitting }: { trial: TrialView; sitting: SittingSummary }) {
  return (
    <section>
      <h2>If something goes otherwise</h2>
      {sitting.state !== 'closed' && (
        <Unfold says="somebody did not come, or comes late">
          <WhoCame trial={trial} sitting={sitting} />
        </Unfold>
      )}
      {sitting.state !== 'poured' && (
        <>
          <Unfold says="a ballot was filled in on paper">
            <PaperEntry trial={trial} sitting={sitting} />
          </Unfold>
          <Unfold says="a phone cannot send its answers">
            <CarriedCodes trial={trial} />
          </Unfold>
        </>
      )}
    </section>
  );
}

/** Scores are read only when the key is open, so that nobody is led by what they know. */
function KeySection({ trial, sitting }: { trial: TrialView; sitting: SittingSummary }) {
  if (sitting.key === 'opened')
    return <p class="soft">The key of {sitting.label} is open; the record says when and why.</p>;
  if (sitting.state === 'closed')
    return (
      <section>
        <h2>Open the key</h2>
        <KeyForm trial={trial} sitting={sitting} ready />
      </section>
    );
  return (
    <details>
      <summary>Open the key before the end</summary>
      <KeyForm trial={trial} sitting={sitting} ready={false} />
    </details>
  );
}

function KeyForm({ trial, sitting, ready }: { trial: TrialView; sitting: SittingSummary; ready: boolean }) {
  const missing = sitting.answersExpected - sitting.answers;
  const reason =
    missing === 0 ? 'every answer is in' : `the tasting is over, ${count(missing, 'answer')} short`;
  const [why, setWhy] = useState(ready ? reason : '');
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const open = async (event: Event) => {
    event.preventDefault();
    setTrouble(null);
    try {
      await ask('openKey', { trial: trial.trial, sitting: sitting.sitting }, { why: why.trim() });
      await openTrialOf(trial.trial);
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
    }
  };
  return (
    <>
      <p>
        The <Term is="key">key</Term> of {sitting.label} is sealed: {count(sitting.cups, 'cup')} are known by
        their codes only, and no score is read before it is open. Opening it is kept on record; answers that
        come later are marked late.
      </p>
      <form class="key-form" onSubmit={(event) => void open(event)}>
        <Field label="Why now?" value={why} change={setWhy} />
        <button type="submit" class={ready ? 'do' : undefined} disabled={why.trim() === ''}>
          Open the key
        </button>
      </form>
      <Trouble of={trouble} />
    </>
  );
}
