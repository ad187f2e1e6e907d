import { useEffect, useState } from 'preact/hooks';
import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { count } from '../numbers.ts';
import { Onward } from '../parts/onward.tsx';
import { Care, Figures, PageHead } from '../parts/page.tsx';
import { printAddress, stepAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { BottleWeighing } from './bottle-weighing.tsx';
import { type Bottle, bottlesOf } from './weighing.ts';
import { sendThoseLeft, stuckIn } from './whole-bottles.ts';

interface PageProps {
  trial: TrialView;
  round: RoundView;
  query: URLSearchParams;
}

/** Weighs one bottle at a time, one component at a time. */
export function WeighPage({ trial, round, query }: PageProps) {
  const [shelf] = useLoaded('shelf', () => ask('readShelf'));
  const bottles = bottlesOf(
    trial,
    round,
    trial.roundViews.filter((one) => one.round < round.round),
  );
  // Stays at a bottle that has just become whole: what it is made up to stands there.
  const [first] = useState((bottles.find(({ weighed }) => weighed === null) ?? bottles[0])?.blend);
  const bottle = bottles.find(({ blend }) => blend === (query.get('bottle') ?? first)) ?? bottles[0];
  useEffect(() => sendThoseLeft(trial, round, bottles), [trial.trial, round.round]);
  const left = bottles.filter(({ weighed }) => weighed === null).length;
  return (
    <>
      <PageHead title={`Round ${round.round}: weigh`}>
        {left === 0 ? 'Every bottle is weighed.' : `${left} of ${bottles.length} bottles to weigh.`} What the
        balance shows counts, not the plan.
      </PageHead>
      <BenchCautions trial={trial} />
      <BottleRack trial={trial} round={round} bottles={bottles} here={bottle?.blend} />
      <NotArrived trial={trial} round={round} here={bottle?.blend} />
      {bottle && (
        <BottleWeighing
          key={bottle.blend}
          trial={trial}
          round={round}
          bottle={bottle}
          bottles={bottles}
          shelf={shelf.state === 'here' ? shelf.value : null}
        />
      )}
      <p class="apart">
        <a href={printAddress(trial.trial, 'weighing', { round: round.round })}>Weighing sheet on paper</a>{' '}
        <a href={printAddress(trial.trial, 'labels', { round: round.round })}>Labels for the bottles</a>
      </p>
      <Onward trial={trial} round={round} step="weigh" />
    </>
  );
}

/** What was weighed and did not reach the workbench; the bottle that is open says why. */
function NotArrived({ trial, round, here }: Omit<RackProps, 'bottles'>) {
  const others = stuckIn(trial, round).filter(({ blend }) => blend !== here);
  if (others.length === 0) return null;
  return (
    <Care>
      {others.map(({ blend }) => (
        <p key={blend}>
          What was weighed of {blend} did not arrive. It waits here and goes again with the next bottle.{' '}
          <a href={stepAddress(trial.trial, round.round, 'weigh', { bottle: blend })}>See why</a>
        </p>
      ))}
    </Care>
  );
}

function BenchCautions({ trial }: { trial: TrialView }) {
  const cautions = trial.brief.cautions.filter(({ to }) => to === 'bench');
  if (cautions.length === 0) return null;
  return (
    <Figures says={`${count(cautions.length, 'caution')} for the bench`}>
      <ul>
        {cautions.map(({ text }) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </Figures>
  );
}

interface RackProps {
  trial: TrialView;
  round: RoundView;
  bottles: readonly Bottle[];
  here: string | undefined;
}

function BottleRack({ trial, round, bottles, here }: RackProps) {
  return (
    <ul class="rack" aria-label="Bottles">
      {bottles.map(({ blend, weighed }) => (
        <li key={blend}>
          <a
            href={stepAddress(trial.trial, round.round, 'weigh', { bottle: blend })}
            aria-current={blend === here ? 'true' : undefined}
            class={weighed === null ? 'bottle' : 'bottle full'}
          >
            {blend}
            <span class="unseen">{weighed === null ? ', to weigh' : ', weighed'}</span>
          </a>
        </li>
      ))}
    </ul>
  );
}
