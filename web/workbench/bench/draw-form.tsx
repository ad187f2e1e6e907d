import { useState } from 'preact/hooks';
import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { count, readNumber } from '../numbers.ts';
import { Trouble } from '../parts/await.tsx';
import { Check, Field } from '../parts/field.tsx';
import { Figures } from '../parts/page.tsx';
import { Term } from '../parts/term.tsx';
import { ask } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';
import { noteLinks } from './links.ts';
import { likelySitting, namesIn, type SittingDraft, sittingFault } from './sitting-draft.ts';

/** Who tastes which mixes at a sitting; draws codes, serving orders and a link for each. */
export function DrawForm({ trial, round }: { trial: TrialView; round: RoundView }) {
  const [draft, setDraft] = useState<SittingDraft>(() => likelySitting(trial, round));
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const [busy, setBusy] = useState(false);
  const change = (next: Partial<SittingDraft>) => setDraft({ ...draft, ...next });
  const fault = sittingFault(draft);
  const cups =
    draft.mixes.length * (readNumber(draft.replicates) ?? 1) +
    (draft.reference ? 1 : 0) +
    (draft.warmup ? 1 : 0);
  const draw = async (event: Event) => {
    event.preventDefault();
    if (fault !== null) return;
    setBusy(true);
    setTrouble(null);
    try {
      const { label, knowing, mixes, reference, warmup } = draft;
      const body = {
        label: label.trim(),
        assessors: namesIn(draft.assessors),
        knowing: [...knowing],
        mixes: [...mixes],
        replicates: readNumber(draft.replicates) ?? 1,
        reference,
        warmup,
      };
      noteLinks(await ask('drawSitting', { trial: trial.trial, round: round.round }, body));
      await openTrialOf(trial.trial);
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
    }
    setBusy(false);
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
          help="Names or marks, with commas between."
        />
      </div>
      <MixChoice round={round} draft={draft} change={change} />
      <Figures says="who knows the formula, reference, warm-up, repeats">
        <MoreChoices draft={draft} change={change} />
      </Figures>
      <p class="soft" role="status">
        {fault ?? `${count(cups, 'cup')} for each of ${count(namesIn(draft.assessors).length, 'taster')}.`}
      </p>
      <button type="submit" class="do" disabled={busy || fault !== null}>
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

function MoreChoices({ draft, change }: PartProps) {
  const turn = (name: string, on: boolean) =>
    change({ knowing: on ? [...draft.knowing, name] : draft.knowing.filter((one) => one !== name) });
  return (
    <>
      <fieldset class="field">
        <legend>
          Who <Term is="knowing">knows the formula</Term>
        </legend>
        <div class="pick">
          {namesIn(draft.assessors).map((name) => (
            <Check key={name} checked={draft.knowing.includes(name)} change={(on) => turn(name, on)}>
              {name}
            </Check>
          ))}
        </div>
      </fieldset>
      <Check checked={draft.reference} change={(reference) => change({ reference })}>
        Pour the <Term is="reference">reference</Term> among the mixes
      </Check>
      <Check checked={draft.warmup} change={(warmup) => change({ warmup })}>
        Begin with a <Term is="warmup">warm-up cup</Term>
      </Check>
      <Field
        label={<Term is="replicates">Times each mix</Term>}
        class="narrow"
        number
        value={draft.replicates}
        change={(replicates) => change({ replicates })}
      />
    </>
  );
}
