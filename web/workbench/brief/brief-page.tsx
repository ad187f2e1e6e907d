import { useState } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import type { Brief } from '../../../trials/schema/brief.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { Trouble } from '../parts/await.tsx';
import { PageHead, Warnings } from '../parts/page.tsx';
import { offerUndo } from '../parts/undo.tsx';
import { trialAddress } from '../routes.ts';
import { ask, Refusal } from '../server.ts';
import { showTrial } from '../trial-store.ts';
import { BriefForm } from './brief-form.tsx';
import { draftOf } from './draft.ts';
import { JudgedBrief } from './judged-brief.tsx';
import { ReadBriefFile } from './read-file.tsx';
import { useBrief } from './use-brief.ts';

/** The brief of a trial, to read and to change; each saving makes a new version. */
export function BriefPage({ trial }: { trial: TrialView }) {
  const editing = useBrief(`brief:${trial.trial}`, draftOf(trial.brief));
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);

  const put = async (brief: Brief) => {
    setTrouble(null);
    try {
      const saved = await ask('changeBrief', { trial: trial.trial }, brief);
      showTrial(saved);
      editing.replace(draftOf(saved.brief), true);
      return true;
    } catch (thrown) {
      if (thrown instanceof Refusal && thrown.faults.length > 0) editing.setFaults(thrown.faults);
      else setTrouble(troubleOf(thrown));
      return false;
    }
  };
  const save = async () => {
    const brief = editing.check();
    if (brief === null) return;
    const before = trial.brief;
    if (await put(brief as Brief))
      offerUndo('A new version of the brief is saved.', async () => void (await put(before)));
  };
  const saveByKey = (event: KeyboardEvent) => {
    if (!(event.ctrlKey || event.metaKey) || event.key !== 's') return;
    event.preventDefault();
    if (editing.touched) void save();
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a shortcut for what the button below does
    <div onKeyDown={saveByKey}>
      <PageHead title="Brief">
        {trial.brief.name}
        {trial.briefVersion > 1 && <span class="soft">, version {trial.briefVersion}</span>}
      </PageHead>
      <Warnings of={trial.warnings} />
      <JudgedBrief brief={trial.brief} />
      <p class="small">
        Not sure from where on something is tasted?{' '}
        <a href={trialAddress(trial.trial, 'ladder')}>Let tasters climb a ladder of doses</a>.
      </p>
      <ReadBriefFile take={(draft) => editing.replace(draft, false)} />
      <BriefForm editing={editing} open={false}>
        <Trouble of={trouble} />
        <button type="button" class="do" disabled={!editing.touched} onClick={() => void save()}>
          Save the brief
        </button>
      </BriefForm>
    </div>
  );
}
