import { useState } from 'preact/hooks';
import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { Trouble } from '../parts/await.tsx';
import { offerUndo } from '../parts/undo.tsx';
import { stepAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { showRound } from '../trial-store.ts';
import { wayOn } from '../way-on.ts';

interface MarkDoneProps {
  trial: TrialView;
  round: RoundView;
  step: 'rest' | 'dose' | 'pour';
  says: string;
  /** Something else is to be done here first. */
  early?: boolean;
  /** Where to go when it is done. */
  then: 'dose' | 'pour' | 'taste';
}

/** Says that a step at the bench is done; can be taken back. */
export function MarkDone({ trial, round, step, says, then, early = false }: MarkDoneProps) {
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const done = round.steps.find((one) => one.step === step)?.state === 'done';
  const mark = async (to: boolean) => {
    setTrouble(null);
    const goOn = wayOn();
    try {
      showRound(
        trial.trial,
        await ask('markStep', { trial: trial.trial, round: round.round }, { step, done: to }),
      );
      if (!to) return;
      offerUndo(`${says}: noted.`, () => mark(false));
      goOn(stepAddress(trial.trial, round.round, then));
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
    }
  };
  return (
    <div class="row">
      {done ? (
        <button type="button" onClick={() => void mark(false)}>
          Not done after all
        </button>
      ) : (
        <button type="button" class={early ? undefined : 'do'} onClick={() => void mark(true)}>
          {says}
        </button>
      )}
      <Trouble of={trouble} />
    </div>
  );
}
