import { useState } from 'preact/hooks';
import type { Reading, TrialView } from '../../../trials/schema/api.ts';
import { count } from '../numbers.ts';
import { Choice } from '../parts/field.tsx';
import { Table } from '../parts/table.tsx';
import { Term } from '../parts/term.tsx';
import type { PlanDocument } from '../results.ts';
import type { PlanBody } from './plan-wishes.ts';

type Rehearsal = NonNullable<PlanDocument['rehearsal']>;
type Difficulty = Rehearsal['difficulty'];

const CHOICES: [Difficulty, string][] = [
  ['easy', 'easy: flavours follow in straight lines'],
  ['middling', 'middling: some lift or cover others'],
  ['hard', 'hard: strong bends, peaks and hollows'],
];

interface RehearsalProps {
  trial: TrialView;
  plan: PlanDocument;
  stored: Reading;
  start: (body: PlanBody) => void;
}

/** How often this plan would find the target, played before anything is weighed. */
export function PlanRehearsal({ trial, plan, stored, start }: RehearsalProps) {
  const { rehearsal } = plan;
  const [difficulty, setDifficulty] = useState<Difficulty>(rehearsal?.difficulty ?? 'middling');
  if (trial.brief.attributes.every(({ target }) => target === undefined)) return null;
  const { options } = stored.input as { options: PlanBody };
  return (
    <section>
      <h2>Would it find the target?</h2>
      {rehearsal === undefined ? (
        <p>
          Rehearse it first, at no cost in material: tasters like yours ({trial.brief.panel.assessors} of
          them) taste 40 invented drinks by this plan. It takes a minute or two.
        </p>
      ) : (
        <Rehearsed rehearsal={rehearsal} assessors={trial.brief.panel.assessors} />
      )}
      <form
        class="row"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          start({ ...options, rehearse: { difficulty } });
        }}
      >
        <Choice
          label="How hard are the invented drinks?"
          value={difficulty}
          options={CHOICES}
          change={(value) => setDifficulty(value as Difficulty)}
        />
        <button type="submit">{rehearsal === undefined ? 'Rehearse this plan' : 'Rehearse again'}</button>
      </form>
    </section>
  );
}

function Rehearsed({ rehearsal, assessors }: { rehearsal: Rehearsal; assessors: number }) {
  const { truths, stages, says, each } = rehearsal;
  const last = stages[stages.length - 1]!;
  return (
    <>
      <p class="lead">
        Found in {stages[0]!.found} of {truths} after this plan
        {stages.length > 1 && `, in ${last.found} of ${truths} after ${saysRounds(last.rounds)}`}.
      </p>
      <p class="soft">
        Tasted by {count(assessors, 'invented taster', 'invented tasters')}; in each drink some ratio meets
        every target, and {says}. Your own drink may be another: take this as a comparison of plans, not as a
        promise.
      </p>
      <Table
        caption="How often the target was found"
        rows={stages}
        columns={[
          {
            head: 'after',
            cell: ({ rounds }) => (rounds === 0 ? 'this plan' : `${saysRounds(rounds)} of ${each}`),
          },
          { head: 'mixes', number: true, cell: ({ mixes }) => mixes },
          { head: 'cups', number: true, cell: ({ cups }) => cups },
          { head: `found, of ${truths}`, number: true, cell: ({ found }) => found },
          {
            head: 'in 100 (95 %)',
            number: true,
            cell: ({ interval: [low, high] }) => `${Math.round(100 * low)} to ${Math.round(100 * high)}`,
          },
          {
            head: (
              <>
                <Term is="distance">distance</Term> left
              </>
            ),
            value: ({ distance }) => distance,
            digits: 2,
          },
        ]}
      />
    </>
  );
}

function saysRounds(rounds: number): string {
  return count(rounds, 'more round', 'more rounds');
}
