import { useState } from 'preact/hooks';
import type { LadderView, TrialView } from '../../../trials/schema/api.ts';
import { useAct } from '../parts/act.ts';
import { Trouble } from '../parts/await.tsx';
import { Choice, Field } from '../parts/field.tsx';
import { ask } from '../server.ts';
import { type LadderDraft, rungsOf, tastersOf } from './ladder.ts';

interface SetUpProps {
  trial: TrialView;
  drawn: (ladder: LadderView) => void;
}

/** What a ladder is of, its rungs and who tastes; the workbench draws the cups. */
export function LadderSetUp({ trial, drawn }: SetUpProps) {
  const [draft, setDraft] = useState<LadderDraft>(() => begun(trial));
  const [fault, setFault] = useState<string | null>(null);
  const { busy, trouble, run } = useAct();
  const field = (key: keyof LadderDraft) => ({
    value: draft[key],
    change: (value: string) => setDraft({ ...draft, [key]: value }),
  });
  const draw = (event: Event) => {
    event.preventDefault();
    const concentrations = rungsOf(draft);
    const tasters = tastersOf(draft);
    if (!Array.isArray(concentrations)) return setFault(concentrations.fault);
    if (tasters.length === 0) return setFault('Who tastes: at least one name.');
    setFault(null);
    const { component } = draft;
    void run(async () =>
      drawn(await ask('drawLadder', { trial: trial.trial }, { component, concentrations, tasters })),
    );
  };
  return (
    <form onSubmit={draw} noValidate aria-label="Set up a ladder">
      <div class="fields">
        <Choice
          label="Of what"
          class="wide"
          options={trial.brief.components.map(({ id, name }) => [id, name || id] as const)}
          {...field('component')}
        />
        <Field
          label="Lowest rung"
          number
          unit="mg a litre"
          {...field('weakest')}
          help="of it as the brief names it; so little that nobody should notice"
        />
        <Field
          label="Each rung stronger by"
          number
          unit="times"
          {...field('factor')}
          help="2 is usual, 3 for a first look"
        />
        <Field label="Rungs" number {...field('rungs')} help="6 are usual" />
        <Field label="Who tastes" class="wide" {...field('tasters')} help="with commas between" />
      </div>
      {fault !== null && (
        <p class="fault" role="alert">
          {fault}
        </p>
      )}
      <p class="soft">
        Weakest first, all in one sitting, water between rungs. Nobody tastes it neat; stop where it becomes
        unpleasant.
      </p>
      <p>
        <button type="submit" class="do" disabled={busy}>
          Draw the cups
        </button>
      </p>
      <Trouble of={trouble} />
    </form>
  );
}

function begun(trial: TrialView): LadderDraft {
  const people = [
    ...new Set(trial.roundViews.flatMap((round) => round.sittings.flatMap(({ assessors }) => assessors))),
  ];
  const names =
    people.length > 0 ? people : Array.from({ length: trial.brief.panel.assessors }, (_, k) => `P${k + 1}`);
  return {
    component: trial.brief.components[0]!.id,
    weakest: '0.5',
    factor: '2',
    rungs: '6',
    tasters: names.join(', '),
  };
}
