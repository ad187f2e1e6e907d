import { useState } from 'preact/hooks';
import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import type { TestForm } from '../../../trials/schema/scale-form.ts';
import { noteLinks } from '../bench/links.ts';
import { namesIn } from '../bench/sitting-draft.ts';
import { readNumber } from '../numbers.ts';
import { useAct } from '../parts/act.ts';
import { Trouble } from '../parts/await.tsx';
import { Choice, Field } from '../parts/field.tsx';
import { stepAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';
import { wayOn } from '../way-on.ts';
import { formOfProof, likelyProof, type ProofDraft, planProof } from './proof-plan.ts';

const CLAIMS: readonly (readonly [ProofDraft['kind'], string])[] = [
  ['alike', 'close enough: too few can tell them apart'],
  ['different', 'different: people can tell them apart'],
  ['preferred', 'better: people would rather drink it'],
];

const FORMS: readonly (readonly [TestForm, string])[] = [
  ['triangle', 'three cups, two alike (triangle)'],
  ['tetrad', 'four cups, two and two (tetrad)'],
  ['duo-trio', 'one to compare with (duo-trio)'],
];

interface FormProps {
  trial: TrialView;
  round: RoundView;
  formula: string;
  against: string | null;
}

/** What is claimed, who tastes, and what that can show; draws the codes. */
export function ProofForm({ trial, round, formula, against }: FormProps) {
  const [draft, setDraft] = useState(() => likelyProof(trial, against));
  const { busy, trouble, run } = useAct();
  const field = <K extends keyof ProofDraft>(key: K) => ({
    value: draft[key],
    change: (value: string) => setDraft({ ...draft, [key]: value }),
  });
  const plan = planProof(draft);
  const draw = (event: Event) => {
    event.preventDefault();
    if (plan.fault !== null) return;
    const goOn = wayOn();
    return run(async () => {
      const params = { trial: trial.trial, round: round.round };
      const drawn = await ask('drawSitting', params, requestOf(draft, formula, against));
      noteLinks(drawn);
      await openTrialOf(trial.trial);
      goOn(stepAddress(trial.trial, round.round, 'pour', { sitting: drawn.sitting }));
    });
  };
  return (
    <form onSubmit={(event) => void draw(event)} noValidate>
      <Choice label="What is claimed" class="narrow-choice" options={CLAIMS} {...field('kind')} />
      <div class="fields">
        <Field label="Name of the sitting" {...field('label')} />
        {draft.kind !== 'preferred' && <Choice label="Cups" options={FORMS} {...field('form')} />}
        <Field label="Who tastes" class="wide" {...field('assessors')} help="With commas between." />
        <Field label="Sets for each" number {...field('sets')} />
        {draft.kind === 'alike' && (
          <Field
            label="It would matter from"
            unit="of 100 who can tell"
            number
            {...field('limit')}
            help="fixed now, not afterwards"
          />
        )}
      </div>
      <div role="status">
        {plan.fault !== null ? (
          <p class="soft">{plan.fault}</p>
        ) : (
          plan.says.map((line) => <p key={line}>{line}</p>)
        )}
      </div>
      <button type="submit" class="do" disabled={busy || plan.fault !== null}>
        Draw the codes
      </button>
      <Trouble of={trouble} />
    </form>
  );
}

function requestOf(draft: ProofDraft, formula: string, against: string | null) {
  const { kind, label, assessors, sets, limit } = draft;
  const forced = kind === 'preferred' ? { of: 'what you would rather drink', stronger: formula } : {};
  return {
    label: label.trim(),
    assessors: namesIn(assessors),
    mixes: [formula, ...(against === null ? [] : [against])],
    reference: against === null,
    replicates: readNumber(sets) ?? 1,
    test: {
      form: formOfProof(draft),
      ...forced,
      claim: { kind, limit: kind === 'alike' ? (readNumber(limit) ?? 30) / 100 : 0.3 },
    },
  };
}
