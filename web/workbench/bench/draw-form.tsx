import { useState } from 'preact/hooks';
import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import { count } from '../numbers.ts';
import { useAct } from '../parts/act.ts';
import { Trouble } from '../parts/await.tsx';
import { Check, Field } from '../parts/field.tsx';
import { Figures } from '../parts/page.tsx';
import { ask } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';
import { Manner, MoreChoices } from './draw-choices.tsx';
import { noteLinks } from './links.ts';
import {
  cupsEach,
  likelySitting,
  namesIn,
  requestOf,
  type SittingDraft,
  sittingCare,
  sittingFault,
} from './sitting-draft.ts';

/** Who tastes which mixes at a sitting, and how; draws codes, serving orders and a link for each. */
export function DrawForm({
  trial,
  round,
  more = false,
}: {
  trial: TrialView;
  round: RoundView;
  /** Every mix is in a sitting already. */
  more?: boolean;
}) {
  const [draft, setDraft] = useState<SittingDraft>(() => likelySitting(trial, round));
  const { busy, trouble, run } = useAct();
  const change = (next: Partial<SittingDraft>) => setDraft({ ...draft, ...next });
  const fault = sittingFault(draft);
  const care = sittingCare(draft, trial.brief.panel.lingers ?? false);
  const draw = (event: Event) => {
    event.preventDefault();
    if (fault !== null) return;
    return run(async () => {
      const params = { trial: trial.trial, round: round.round };
      noteLinks(await ask('drawSitting', params, requestOf(draft)));
      await openTrialOf(trial.trial);
    });
  };
  return (
    <form onSubmit={(event) => void draw(event)} noValidate class="draw">
      <div class="fields">
        <Field label="Name of the sitting" value={draft.label} change={(label) => change({ label })} />
        <Field
          label="Who tastes"
          class="wide"
          value={draft.assessors}
          change={(assessors) => change({ assessors })}
          help="Initials or numbers, with commas between."
        />
      </div>
      <MixChoice round={round} draft={draft} change={change} />
      <Figures says="who knows the formula, reference, warm-up, repeats">
        <MoreChoices draft={draft} change={change} />
      </Figures>
      <Figures says="how it is held: rests, alone, two drinks to tell apart">
        <Manner draft={draft} change={change} />
      </Figures>
      <p class="soft" role="status">
        {fault ??
          `${count(cupsEach(draft), 'cup')} for each of ${count(namesIn(draft.assessors).length, 'taster')}.`}
      </p>
      {fault === null && care !== null && <p>{care}</p>}
      <button type="submit" class={more ? undefined : 'do'} disabled={busy || fault !== null}>
        Draw the codes
      </button>
      <Trouble of={trouble} />
    </form>
  );
}

interface PartProps {
  draft: SittingDraft;
  change: (next: Partial<SittingDraft>) => void;
}

function MixChoice({ round, draft, change }: PartProps & { round: RoundView }) {
  const turn = (mix: string, on: boolean) =>
    change({ mixes: on ? [...draft.mixes, mix] : draft.mixes.filter((one) => one !== mix) });
  return (
    <fieldset class="field">
      <legend>Mixes in the cups</legend>
      <div class="pick">
        {round.mixes.map(({ mix, weighed, again }) => (
          <Check key={mix} checked={draft.mixes.includes(mix)} change={(on) => turn(mix, on)}>
            {mix}
            {weighed === null && !again && <span class="soft small"> not weighed</span>}
          </Check>
        ))}
      </div>
    </fieldset>
  );
}
