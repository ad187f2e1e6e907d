import { useState } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import { readNumber } from '../numbers.ts';
import { Choice, Field } from '../parts/field.tsx';
import { Figures } from '../parts/page.tsx';
import { Term } from '../parts/term.tsx';
import type { ask } from '../server.ts';
import { MODELS } from '../words.ts';

export type PlanBody = Parameters<typeof ask<'startPlan'>>[2] & object;

const CHOICES = [
  ['', 'the richest that so many mixes can carry'],
  ...Object.entries(MODELS).filter(([id]) =>
    ['linear', 'quadratic', 'special-cubic', 'full-cubic', 'log-ratio'].includes(id),
  ),
] as [string, string][];

/** How many mixes, which of them twice, and what they should be able to tell. */
export function PlanForm({
  trial,
  start,
  busy,
}: {
  trial: TrialView;
  start: (body: PlanBody) => void;
  busy: boolean;
}) {
  const few = trial.brief.components.length;
  const [mixes, setMixes] = useState(String(Math.max(few + 2, 8)));
  const [model, setModel] = useState('');
  const [replicated, setReplicated] = useState('1');
  const number = readNumber(mixes);
  const again = readNumber(replicated);
  const fault =
    number === null || number < few ? `a whole number of at least ${few}, one a component` : undefined;
  const begin = (event: Event) => {
    event.preventDefault();
    if (fault !== undefined || again === null) return;
    start({ mixes: number!, replicated: again, ...(model === '' ? {} : { model: model as 'linear' }) });
  };
  return (
    <form noValidate onSubmit={begin}>
      <div class="fields">
        <Field label="How many mixes?" number value={mixes} change={setMixes} fault={fault} />
        <Field
          label="Of these weighed twice"
          number
          value={replicated}
          change={setReplicated}
          help="A fresh weighing shows how well you repeat."
        />
      </div>
      <Figures says="what the plan should be able to tell">
        <Choice label={<Term is="model">Model</Term>} value={model} options={CHOICES} change={setModel} />
      </Figures>
      <button type="submit" class="do" disabled={busy}>
        Plan the mixes
      </button>
    </form>
  );
}
