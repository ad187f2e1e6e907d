import { useState } from 'preact/hooks';
import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import { keep, kept } from '../kept.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { Trouble } from '../parts/await.tsx';
import { Choice } from '../parts/field.tsx';
import { Onward } from '../parts/onward.tsx';
import { Care, Figures, PageHead } from '../parts/page.tsx';
import { offerUndo } from '../parts/undo.tsx';
import { printAddress, stepAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { showRound } from '../trial-store.ts';
import { BottleLines } from './bottle-lines.tsx';
import { OneLine } from './one-line.tsx';
import { type Bottle, bottlesOf, lineToWeigh, type Noted, type Showing } from './weighing.ts';

interface PageProps {
  trial: TrialView;
  round: RoundView;
  query: URLSearchParams;
}

/** Weighs one bottle at a time, one component at a time. */
export function WeighPage({ trial, round, query }: PageProps) {
  const bottles = bottlesOf(
    trial.brief,
    round,
    trial.roundViews.filter((one) => one.round < round.round),
  );
  const asked = bottles.find(({ blend }) => blend === query.get('bottle'));
  const bottle = asked ?? bottles.find(({ weighed }) => weighed === null) ?? bottles[0];
  const left = bottles.filter(({ weighed }) => weighed === null).length;
  return (
    <>
      <PageHead title={`Round ${round.round}: weigh`}>
        {left === 0 ? 'Every bottle is weighed.' : `${left} of ${bottles.length} bottles to weigh.`} What the
        balance shows counts, not the plan.
      </PageHead>
      <BenchCautions trial={trial} />
      <BottleRack trial={trial} round={round} bottles={bottles} here={bottle?.blend} />
      {bottle && (
        <BottleWeighing key={bottle.blend} trial={trial} round={round} bottle={bottle} bottles={bottles} />
      )}
      <p class="apart">
        <a href={printAddress(trial.trial, 'weighing', { round: round.round })}>Weighing sheet on paper</a>{' '}
        <a href={printAddress(trial.trial, 'labels', { round: round.round })}>Labels for the bottles</a>
      </p>
      <Onward trial={trial} round={round} step="weigh" />
    </>
  );
}

function BenchCautions({ trial }: { trial: TrialView }) {
  const cautions = trial.brief.cautions.filter(({ to }) => to === 'bench');
  if (cautions.length === 0) return null;
  return (
    <Figures says={`${cautions.length} cautions for the bench`}>
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

interface BottleProps {
  trial: TrialView;
  round: RoundView;
  bottle: Bottle;
  bottles: readonly Bottle[];
}

const SHOWINGS = [
  ['each', 'one component, set to zero before each'],
  ['total', 'the growing total'],
] as const;

function BottleWeighing({ trial, round, bottle, bottles }: BottleProps) {
  const key = `weighing:${trial.trial}:${round.round}:${bottle.blend}`;
  const [noted, setNoted] = useState<Noted>(() => kept<Noted>(key) ?? bottle.weighed ?? {});
  const [showing, setShowing] = useState<Showing>(() => kept<Showing>('showing') ?? 'each');
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const line = lineToWeigh(bottle, noted);

  const send = async (whole: Noted) => {
    setTrouble(null);
    try {
      const params = { trial: trial.trial, round: round.round, mix: bottle.mixes[0]! };
      showRound(trial.trial, await ask('weighMix', params, { grams: whole, note: bottle.note }));
      keep(key, null);
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
    }
  };
  const note = (next: Noted) => {
    setNoted(next);
    keep(key, next);
  };
  const take = (id: string, grams: number) => {
    const before = noted;
    const next = { ...noted, [id]: grams };
    note(next);
    if (lineToWeigh(bottle, next) === null) void send(next);
    offerUndo(`${bottle.blend}: ${id} ${grams} g noted.`, () => {
      note(before);
      location.hash = stepAddress(trial.trial, round.round, 'weigh', { bottle: bottle.blend });
    });
  };
  const clear = (id: string) => {
    const { [id]: _, ...rest } = noted;
    note(rest);
  };
  return (
    <section aria-label={`Bottle ${bottle.blend}`}>
      {line === null ? (
        <Whole trial={trial} round={round} bottle={bottle} bottles={bottles} />
      ) : (
        <OneLine
          key={line.id}
          brief={trial.brief}
          bottle={bottle}
          noted={noted}
          line={line}
          showing={showing}
          take={take}
        />
      )}
      <Trouble of={trouble} again={() => void send(noted)} />
      <BottleLines brief={trial.brief} bottle={bottle} noted={noted} clear={clear} />
      <Choice
        label="The balance shows"
        class="narrow-choice"
        value={showing}
        options={SHOWINGS}
        change={(next) => {
          setShowing(next as Showing);
          keep('showing', next);
        }}
      />
    </section>
  );
}

function Whole({ trial, round, bottle, bottles }: BottleProps) {
  const next = bottles.find((other) => other.weighed === null && other.blend !== bottle.blend);
  const focus = (link: HTMLAnchorElement | null) => link?.focus();
  return (
    <div class="whole">
      <h2>Bottle {bottle.blend} is whole</h2>
      {bottle.mixes.length > 1 && <p>It serves {bottle.mixes.join(' and ')}.</p>}
      {next ? (
        <a
          ref={focus}
          class="button do"
          href={stepAddress(trial.trial, round.round, 'weigh', { bottle: next.blend })}
        >
          Weigh bottle {next.blend}
        </a>
      ) : (
        <a ref={focus} class="button do" href={stepAddress(trial.trial, round.round, 'rest')}>
          Let them rest
        </a>
      )}
      {bottle.lines.length === 0 && <Care>Nothing is planned for this bottle.</Care>}
    </div>
  );
}
