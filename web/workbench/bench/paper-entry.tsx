import { useRef, useState } from 'preact/hooks';
import type { PaperCheck, PouringSheet, SittingSummary, TrialView } from '../../../trials/schema/api.ts';
import { fromPlace } from '../../sheets/paper-order.ts';
import { useLoaded } from '../loaded.ts';
import { count } from '../numbers.ts';
import { useAct } from '../parts/act.ts';
import { Await, Trouble } from '../parts/await.tsx';
import { Choice } from '../parts/field.tsx';
import { Care } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { ask } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';
import { answersOf, fieldOf, type PaperField, paperFields, shownOnPaper } from './paper-fields.ts';
import { PaperFields } from './paper-form.tsx';

interface PaperProps {
  trial: TrialView;
  sitting: SittingSummary;
}

/** Ballots filled in on paper, entered from the keyboard in one pass, a second time where it matters. */
export function PaperEntry({ trial, sitting }: PaperProps) {
  const place = { trial: trial.trial, sitting: sitting.sitting };
  const [sheet, again] = useLoaded(`paper ${sitting.sitting} ${sitting.assessors.length}`, () =>
    ask('readPouring', place),
  );
  const [who, setWho] = useState(sitting.assessors[0] ?? '');
  return (
    <Await of={sheet} what="the ballots" again={again}>
      {(found) => (
        <>
          <Choice
            label="Whose ballot"
            class="narrow"
            value={who}
            change={setWho}
            options={sitting.assessors.map((name) => [name, name] as const)}
          />
          <OneBallot key={who} trial={trial} sheet={found} who={who} />
        </>
      )}
    </Await>
  );
}

interface BallotProps {
  trial: TrialView;
  sheet: PouringSheet;
  who: string;
}

function OneBallot({ trial, sheet, who }: BallotProps) {
  const seat = sheet.trays.findIndex(({ assessor }) => assessor === who);
  const tray = sheet.trays[seat];
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const [pass, setPass] = useState<'first' | 'second'>('first');
  const [entered, setEntered] = useState(0);
  const [check, setCheck] = useState<PaperCheck | null>(null);
  const top = useRef<HTMLDivElement>(null);
  const { busy, trouble, run } = useAct();
  if (tray === undefined) return null;
  const fields = paperFields(tray, fromPlace(sheet.questions, seat));
  const answers = answersOf(fields, typed);
  const place = { trial: sheet.trial, sitting: sheet.sitting };
  const store = () =>
    run(async () => {
      await ask('enterPaper', place, { assessor: who, answers });
      setEntered(answers.length);
      setTyped({});
      setCheck(null);
      setPass('first');
      await openTrialOf(trial.trial);
    });
  const compare = () => run(async () => setCheck(await ask('checkPaper', place, { assessor: who, answers })));
  const again = () => {
    setPass('second');
    setTyped({});
    setEntered(0);
    top.current?.querySelector('input')?.focus();
  };
  return (
    <div ref={top} class="paper-entry">
      {entered > 0 && (
        <p role="status">
          {count(entered, 'mark')} of {who} entered.{' '}
          <button type="button" class="quiet" onClick={again}>
            Enter it a second time, to catch slips
          </button>
        </p>
      )}
      {pass === 'second' && <p class="lead">Second time: enter {who}’s ballot as if it were new.</p>}
      <PaperFields
        fields={fields}
        typed={typed}
        change={setTyped}
        done={() => void (pass === 'first' ? store() : compare())}
      />
      <div class="row">
        <button
          type="button"
          class="do"
          disabled={busy || answers.length === 0}
          onClick={() => void (pass === 'first' ? store() : compare())}
        >
          {pass === 'first' ? `Enter ${count(answers.length, 'mark')}` : 'Compare the two'}
        </button>
        <span class="soft">
          {answers.length} of {fields.length} fields
        </span>
      </div>
      <Trouble of={trouble} />
      {check !== null && <Differences check={check} fields={fields} store={store} />}
    </div>
  );
}

interface DifferencesProps {
  check: PaperCheck;
  fields: readonly PaperField[];
  store: () => unknown;
}

function Differences({ check: { same, differences }, fields, store }: DifferencesProps) {
  if (differences.length === 0) return <p role="status">Both entries agree in all {count(same, 'mark')}.</p>;
  const rows = differences.flatMap((one) => {
    const field = fieldOf(fields, one);
    return field ? [{ ...one, field }] : [];
  });
  return (
    <Care>
      <p role="status">
        The two entries differ in {count(differences.length, 'mark')}. Look at the paper; the first entry
        counts until another is entered.
      </p>
      <Table
        caption="Where the two entries differ"
        quietCaption
        rows={rows}
        columns={[
          { head: 'Cup', cell: ({ code }) => code },
          { head: 'Question', cell: ({ field }) => field.question.name || 'which cup' },
          { head: 'First', number: true, cell: ({ field, first }) => shownOnPaper(field, first) },
          { head: 'Second', number: true, cell: ({ field, second }) => shownOnPaper(field, second) },
        ]}
      />
      <div class="row">
        <button type="button" onClick={() => void store()}>
          Let the marks above in the form count
        </button>
      </div>
    </Care>
  );
}
