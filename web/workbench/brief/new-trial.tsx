import { useState } from 'preact/hooks';
import type { Brief } from '../../../trials/schema/brief.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { Trouble } from '../parts/await.tsx';
import { PageHead } from '../parts/page.tsx';
import { trialAddress } from '../routes.ts';
import { ask, Refusal } from '../server.ts';
import { wayOn } from '../way-on.ts';
import { BriefForm } from './brief-form.tsx';
import { emptyDraft } from './draft.ts';
import { ReadBriefFile } from './read-file.tsx';
import { useBrief } from './use-brief.ts';

/** A new trial begins with its brief. */
export function NewTrial() {
  const editing = useBrief('new-brief', emptyDraft());
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const begin = async () => {
    const brief = editing.check();
    setTrouble(null);
    if (brief === null) return;
    const goOn = wayOn();
    try {
      const trial = await ask('createTrial', {}, brief as Brief);
      editing.replace(emptyDraft(), true);
      goOn(trialAddress(trial.trial, 'plan'));
    } catch (thrown) {
      if (thrown instanceof Refusal && thrown.faults.length > 0) editing.setFaults(thrown.faults);
      else setTrouble(troubleOf(thrown));
    }
  };
  return (
    <>
      <PageHead title="New trial">
        What it must taste like, from what, within which limits, and who tastes.
      </PageHead>
      <ReadBriefFile take={(draft) => editing.replace(draft, false)} />
      <BriefForm editing={editing} open>
        <Trouble of={trouble} />
        <button type="button" class="do" onClick={() => void begin()}>
          Begin the trial
        </button>
      </BriefForm>
    </>
  );
}
