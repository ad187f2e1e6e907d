import { useState } from 'preact/hooks';
import type { Live, SittingSummary, TrialView } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { useAct } from '../parts/act.ts';
import { Await, Trouble } from '../parts/await.tsx';
import { Check, Field } from '../parts/field.tsx';
import { Term } from '../parts/term.tsx';
import { ask } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';
import { noteLinks } from './links.ts';

interface Props {
  trial: TrialView;
  sitting: SittingSummary;
}

/** Who has come, who has not, and who comes late: the remaining orders make up for it. */
export function WhoCame({ trial, sitting }: Props) {
  const place = { trial: trial.trial, sitting: sitting.sitting };
  const [live, again] = useLoaded(`came ${sitting.sitting}`, () => ask('readLive', place));
  return (
    <Await of={live} what="the seats" again={again}>
      {(found) => <Seats trial={trial} sitting={sitting} live={found} again={again} />}
    </Await>
  );
}

function Seats({ trial, sitting, live, again }: Props & { live: Live; again: () => void }) {
  const place = { trial: trial.trial, sitting: sitting.sitting };
  const { busy, trouble, run } = useAct();
  const [redrawn, setRedrawn] = useState(false);
  const changed = async () => {
    again();
    await openTrialOf(trial.trial);
  };
  const turn = (assessor: string, came: boolean) =>
    run(async () => {
      await ask('markAbsent', place, { assessor, absent: !came });
      await changed();
    });
  const redraw = () =>
    run(async () => {
      await ask('redrawOrders', place);
      setRedrawn(true);
      await changed();
    });
  const gone = live.trays.filter(({ absent }) => absent).length;
  return (
    <>
      <fieldset class="field">
        <legend>Who has come</legend>
        <div class="pick">
          {live.trays.map(({ assessor, absent }) => (
            <Check key={assessor} checked={!absent} change={(came) => void turn(assessor, came)}>
              {assessor}
            </Check>
          ))}
        </div>
      </fieldset>
      {gone > 0 && sitting.state === 'poured' && (
        <p>
          The orders were balanced for everybody.{' '}
          <button type="button" class="quiet" disabled={busy} onClick={() => void redraw()}>
            Draw codes and orders anew for those who came
          </button>
        </p>
      )}
      {redrawn && (
        <p role="status">Drawn anew: print pouring sheet and labels again. The links for the phones stay.</p>
      )}
      <Trouble of={trouble} />
      {sitting.key === 'sealed' && <LateTaster trial={trial} sitting={sitting} done={changed} />}
    </>
  );
}

function LateTaster({ trial, sitting, done }: Props & { done: () => Promise<void> }) {
  const [assessor, setAssessor] = useState('');
  const [knowing, setKnowing] = useState(false);
  const [seated, setSeated] = useState('');
  const { busy, trouble, run } = useAct();
  const seat = (event: Event) => {
    event.preventDefault();
    return run(async () => {
      const params = { trial: trial.trial, sitting: sitting.sitting };
      noteLinks(await ask('addTaster', params, { assessor: assessor.trim(), knowing }));
      setSeated(assessor.trim());
      setAssessor('');
      await done();
    });
  };
  return (
    <form class="key-form" onSubmit={(event) => void seat(event)}>
      <Field label="Somebody comes late" value={assessor} change={setAssessor} help="A name or mark." />
      <Check checked={knowing} change={setKnowing}>
        <Term is="knowing">knows the formula</Term>
      </Check>
      <button type="submit" disabled={busy || assessor.trim() === ''}>
        Seat them
      </button>
      {seated !== '' && (
        <p role="status">
          {seated} has a tray: pour it by the pouring sheet, and show the link below. Its order makes up for
          what the others lack.
        </p>
      )}
      <Trouble of={trouble} />
    </form>
  );
}
