import { useState } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { readNumber } from '../numbers.ts';
import { stepAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { showRound } from '../trial-store.ts';
import { wayOn } from '../way-on.ts';
import { Trouble } from './await.tsx';
import { Field } from './field.tsx';
import { Term } from './term.tsx';

/** What a round is made of: mixes of a stored plan or of proposals, or the maker's own. */
export interface RoundOf {
  reading?: string;
  only?: string[];
  own?: { grams: Record<string, number>; settings: Record<string, number> }[];
}

interface AcceptProps {
  trial: TrialView;
  of: RoundOf;
  made?: () => void;
}

/** Makes a round, and goes on to weighing it. */
export function AcceptRound({ trial, of, made }: AcceptProps) {
  const [hours, setHours] = useState('24');
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const [busy, setBusy] = useState(false);
  const restHours = readNumber(hours);
  const none = (of.only ?? of.own)?.length === 0;
  const accept = async () => {
    if (restHours === null) return;
    setBusy(true);
    setTrouble(null);
    const goOn = wayOn();
    try {
      const round = await ask('acceptRound', { trial: trial.trial }, { ...of, restHours });
      made?.();
      showRound(trial.trial, round);
      goOn(stepAddress(trial.trial, round.round, 'weigh'));
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
      setBusy(false);
    }
  };
  return (
    <div class="accept">
      <Field
        label={<Term is="rest">Rest before tasting</Term>}
        class="narrow"
        number
        unit="hours"
        value={hours}
        change={setHours}
        fault={restHours === null || restHours < 0 ? 'a number of hours' : undefined}
      />
      <button type="button" class="do" disabled={busy || none} onClick={() => void accept()}>
        Make these: round {trial.roundViews.length + 1}
      </button>
      <Trouble of={trouble} />
    </div>
  );
}
