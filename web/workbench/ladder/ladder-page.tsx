import { useState } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import { TasterWords } from '../bench/taster-words.tsx';
import { keep, kept } from '../kept.ts';
import { count } from '../numbers.ts';
import { Choice, Field } from '../parts/field.tsx';
import { PageHead } from '../parts/page.tsx';
import { trialAddress } from '../routes.ts';
import { type DrawnLadder, drawLadder, type LadderDraft, rungsOf, tastersOf, withNamed } from './ladder.ts';
import { LadderAnswers } from './ladder-answers.tsx';
import { LadderJugs } from './ladder-jugs.tsx';
import { LadderResult } from './ladder-result.tsx';

/** From which dose on tasters notice one component: three cups a rung, one of them odd, weakest first. */
export function LadderPage({ trial }: { trial: TrialView }) {
  const key = `ladder:${trial.trial}`;
  const [draft, setDraft] = useState<LadderDraft>(() => begun(trial));
  const [ladder, setLadder] = useState<DrawnLadder | null>(() => kept<DrawnLadder>(key));
  const [fault, setFault] = useState<string | null>(null);
  const put = (next: DrawnLadder | null) => {
    keep(key, next);
    setLadder(next);
  };
  const draw = (event: Event) => {
    event.preventDefault();
    const rungs = rungsOf(draft);
    const tasters = tastersOf(draft);
    if (!Array.isArray(rungs)) return setFault(rungs.fault);
    if (tasters.length === 0) return setFault('Who tastes: at least one name.');
    setFault(null);
    put(drawLadder(draft.component, rungs, tasters, crypto.getRandomValues(new Uint32Array(1))[0]!));
  };
  return (
    <>
      <p class="small">
        <a href={trialAddress(trial.trial, 'brief')}>Back to the brief</a>
      </p>
      <PageHead title="Ladder of doses">
        From how little on is it tasted? Three cups a rung, two of them without it; each taster names the odd
        one, and guesses where nothing is noticed.
      </PageHead>
      <TasterWords trial={trial} />
      {ladder === null ? (
        <SetUp trial={trial} draft={draft} change={setDraft} draw={draw} fault={fault} />
      ) : (
        <>
          <p>
            {nameOf(trial, ladder.component)}: {count(ladder.concentrations.length, 'rung')} for{' '}
            {count(ladder.trays.length, 'taster')}.{' '}
            <button type="button" class="quiet" onClick={() => put(null)}>
              Begin another ladder
            </button>
          </p>
          <LadderJugs
            trial={trial}
            ladder={ladder}
            stock={draft.stock}
            change={(stock) => setDraft({ ...draft, stock })}
          />
          <LadderAnswers
            ladder={ladder}
            name={(taster, rung, code) => put(withNamed(ladder, taster, rung, code))}
          />
          <LadderResult trial={trial} ladder={ladder} />
        </>
      )}
    </>
  );
}

interface SetUpProps {
  trial: TrialView;
  draft: LadderDraft;
  change: (next: LadderDraft) => void;
  draw: (event: Event) => void;
  fault: string | null;
}

function SetUp({ trial, draft, change, draw, fault }: SetUpProps) {
  const field = (key: keyof LadderDraft) => ({
    value: draft[key],
    change: (value: string) => change({ ...draft, [key]: value }),
  });
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
        <button type="submit" class="do">
          Draw the cups
        </button>
      </p>
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
    stock: '0.1',
  };
}

function nameOf({ brief }: TrialView, component: string): string {
  return brief.components.find(({ id }) => id === component)?.name || component;
}
