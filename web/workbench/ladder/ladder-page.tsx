import { useState } from 'preact/hooks';
import type { LadderView, TrialView } from '../../../trials/schema/api.ts';
import { TasterWords } from '../bench/taster-words.tsx';
import { useLoaded } from '../loaded.ts';
import { count, when } from '../numbers.ts';
import { useAct } from '../parts/act.ts';
import { Await, Trouble } from '../parts/await.tsx';
import { Care, PageHead } from '../parts/page.tsx';
import { offerUndo } from '../parts/undo.tsx';
import { trialAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { arrive } from './kept-ladder.ts';
import { componentName } from './ladder.ts';
import { LadderAnswers } from './ladder-answers.tsx';
import { LadderJugs } from './ladder-jugs.tsx';
import { LadderResult } from './ladder-result.tsx';
import { LadderSetUp } from './ladder-set-up.tsx';
import { OtherLadders } from './other-ladders.tsx';
import { useAnswers } from './use-answers.ts';

/** From which dose on tasters notice one component: three cups a rung, one of them odd, weakest first. */
export function LadderPage({ trial }: { trial: TrialView }) {
  const [arrived, again] = useLoaded(trial.trial, () => arrive(trial.trial));
  return (
    <>
      <p class="small">
        <a href={trialAddress(trial.trial, 'brief')}>Back to the brief</a>
      </p>
      <PageHead title="Ladder of doses">
        From how little on is it tasted? Three cups a rung, two of them without it; each taster names the odd
        one, and guesses where nothing is noticed.
      </PageHead>
      <TasterWords trial={trial} />
      <Await of={arrived} what="its ladders" again={again}>
        {({ ladders, says }) => (
          <>
            {says !== null && <Care>{says}</Care>}
            <Ladders key={trial.trial} trial={trial} found={ladders} />
          </>
        )}
      </Await>
    </>
  );
}

/** The ladder that is in hand, the latest at first, and the others; or a new one being set up. */
function Ladders({ trial, found }: { trial: TrialView; found: readonly LadderView[] }) {
  const [ladders, setLadders] = useState(found);
  const [inHand, setInHand] = useState<number | null>(
    () => found.findLast(({ away }) => away === null)?.ladder ?? null,
  );
  const { trouble, run } = useAct();
  const show = (next: LadderView) =>
    setLadders((all) => [...all.filter(({ ladder }) => ladder !== next.ladder), next].sort(byNumber));
  const putAway = (ladder: number, away: boolean) =>
    run(async () => {
      show(await ask('putLadderAway', { trial: trial.trial, ladder }, { away }));
      setInHand((now) => (away ? (now === ladder ? null : now) : ladder));
      offerUndo(`Ladder ${ladder} is ${away ? 'put away' : 'back'}.`, () => void putAway(ladder, !away));
    });
  const ladder = ladders.find((one) => one.ladder === inHand);
  return (
    <>
      {ladder === undefined ? (
        <LadderSetUp
          trial={trial}
          drawn={(drawn) => {
            show(drawn);
            setInHand(drawn.ladder);
            offerUndo(
              `The cups of ladder ${drawn.ladder} are drawn.`,
              () => void putAway(drawn.ladder, true),
            );
          }}
        />
      ) : (
        <InHand key={ladder.ladder} trial={trial} ladder={ladder} show={show} begin={() => setInHand(null)} />
      )}
      <Trouble of={trouble} />
      <OtherLadders
        trial={trial}
        ladders={ladders.filter((one) => one !== ladder)}
        look={setInHand}
        putAway={(which, away) => void putAway(which, away)}
      />
    </>
  );
}

interface InHandProps {
  trial: TrialView;
  ladder: LadderView;
  show: (next: LadderView) => void;
  begin: () => void;
}

function InHand({ trial, ladder, show, begin }: InHandProps) {
  const [stock, setStock] = useState('0.1');
  const answering = useAnswers(trial.trial, ladder, show);
  const { concentrations, trays, component, drawn } = ladder;
  return (
    <>
      <p>
        Ladder {ladder.ladder}, {componentName(trial, component)}: {count(concentrations.length, 'rung')} for{' '}
        {count(trays.length, 'taster')}, drawn {when(drawn)}.{' '}
        <button type="button" class="quiet" onClick={begin}>
          Begin another ladder
        </button>
      </p>
      <LadderJugs trial={trial} ladder={ladder} stock={stock} change={setStock} />
      <LadderAnswers answering={answering} />
      <LadderResult trial={trial} ladder={answering.now} />
    </>
  );
}

function byNumber(a: LadderView, b: LadderView): number {
  return a.ladder - b.ladder;
}
