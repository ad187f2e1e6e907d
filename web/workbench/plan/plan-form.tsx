import { useState } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import { listed } from '../numbers.ts';
import { Choice, Field } from '../parts/field.tsx';
import { Figures } from '../parts/page.tsx';
import { Term } from '../parts/term.tsx';
import { weighedMixes } from '../reading/reading-view.ts';
import { MODELS } from '../words.ts';
import { POINTS } from './plan-fault-words.ts';
import {
  bodyOf,
  faultsOf,
  fewestMixes,
  firstWishes,
  type PlanBody,
  type Wishes,
  type WishFaults,
} from './plan-wishes.ts';

const CHOICES = [
  ['', 'the richest that so many can carry'],
  ...Object.entries(MODELS).filter(([id]) =>
    ['linear', 'quadratic', 'special-cubic', 'full-cubic', 'log-ratio'].includes(id),
  ),
] as [string, string][];
const PURPOSES = [
  ['', 'how the components act'],
  ['screen', 'who belongs in the blend'],
] as const;
const LOSSES = [
  ['', 'no'],
  ...[1, 2, 5, 10].map((percent) => [String(percent / 100), `yes, for ${percent} % of the knowledge`]),
] as [string, string][];

interface FormProps {
  trial: TrialView;
  start: (body: PlanBody) => void;
  busy: boolean;
  /** No plan stands below yet: asking for one is what the page is for. */
  first: boolean;
}

/** How many mixes, which of them twice, and what they should be able to tell. */
export function PlanForm({ trial, start, busy, first }: FormProps) {
  const fewest = fewestMixes(trial, weighedMixes(trial).length);
  const [wishes, setWishes] = useState(() => firstWishes(trial, fewest));
  const faults = faultsOf(wishes, fewest);
  const set = (key: keyof Wishes) => (value: string) => setWishes({ ...wishes, [key]: value });
  const begin = (event: Event) => {
    event.preventDefault();
    const body = bodyOf(wishes, fewest);
    if (body !== null) start(body);
  };
  return (
    <form noValidate onSubmit={begin}>
      <div class="row">
        <Field
          class="narrow"
          label="How many mixes?"
          number
          value={wishes.mixes}
          change={set('mixes')}
          fault={faults.mixes}
        />
        <Field
          class="narrow"
          label="Of these weighed twice"
          number
          value={wishes.replicated}
          change={set('replicated')}
          fault={faults.replicated}
          help="A fresh weighing shows how well you repeat."
        />
      </div>
      <Figures says="what the plan should be able to tell">
        <div class="fields">
          <Choice label="It should tell" value={wishes.screen} options={PURPOSES} change={set('screen')} />
          {wishes.screen === '' && (
            <Choice
              class="wide"
              label={<Term is="model">Model</Term>}
              value={wishes.model}
              options={CHOICES}
              change={set('model')}
            />
          )}
          <Choice
            class="wide"
            label="Published points to begin with"
            value={wishes.points}
            options={POINTS}
            change={set('points')}
            help="Where the limits leave a plain triangle, or its like with more components."
          />
        </div>
      </Figures>
      <Saving trial={trial} wishes={wishes} faults={faults} set={set} />
      <button type="submit" class={first ? 'do' : undefined} disabled={busy}>
        Plan the mixes
      </button>
    </form>
  );
}

interface SavingProps {
  trial: TrialView;
  wishes: Wishes;
  faults: WishFaults;
  set: (key: keyof Wishes) => (value: string) => void;
}

/** Bottles poured several times, what is scarce, and knowledge given up for savings. */
function Saving({ trial: { brief }, wishes, faults, set }: SavingProps) {
  const components = brief.components.map(({ id, name }) => [id, name ?? id] as const);
  const priced = brief.components.some(({ pricePerGram }) => (pricePerGram ?? 0) > 0);
  const varied = brief.settings.filter(({ low, high }) => high > low).map(({ id, name }) => name ?? id);
  return (
    <Figures says="save material">
      {varied.length > 0 && (
        <Field
          class="narrow lone"
          label="Mixes poured from each bottle"
          number
          value={wishes.poured}
          change={set('poured')}
          fault={faults.poured}
          help={`They differ in ${listed(varied)} alone: the cheapest learning there is. None is then weighed twice.`}
        />
      )}
      <div class="fields">
        <Choice
          label="Scarce"
          value={wishes.scarce}
          options={[['', 'nothing'], ...components]}
          change={set('scarce')}
        />
        {wishes.scarce !== '' && (
          <Field
            label="At most in all"
            unit="g"
            number
            value={wishes.atMost}
            change={set('atMost')}
            fault={faults.atMost}
          />
        )}
      </div>
      <div class="fields">
        <Choice label="Look for a cheaper plan" value={wishes.loss} options={LOSSES} change={set('loss')} />
        {wishes.loss !== '' && (
          <Choice
            label="What to spare"
            value={wishes.save}
            options={[...(priced ? [['money', 'money'] as const] : []), ...components]}
            change={set('save')}
          />
        )}
      </div>
    </Figures>
  );
}
