import { useState } from 'preact/hooks';
import type { LadderView, TrialView } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { count, listed } from '../numbers.ts';
import { useAct } from '../parts/act.ts';
import { Trouble } from '../parts/await.tsx';
import { Care } from '../parts/page.tsx';
import { saveText } from '../parts/save-file.ts';
import { Sure } from '../parts/sure.tsx';
import { type Answer, ask } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';

/** The trial as files: whole, to be taken in elsewhere, or as tables for a spreadsheet or the command. */
export function TakeAlong({ trial: { trial } }: { trial: TrialView }) {
  const { busy, trouble, run } = useAct();
  const whole = () => run(async () => saveJson(`trial-${trial}.json`, await ask('exportTrial', { trial })));
  const tables = () =>
    run(async () => {
      const { files } = await ask('exportTables', { trial });
      for (const { name, text } of files) saveText(name, text, 'text/plain');
    });
  return (
    <section>
      <h2>Take it along</h2>
      <p>
        One document holds the whole trial and gives the same reading wherever it is taken in. Tables hold the
        brief, what was weighed, what was scored, every answer as it came, and ladders of doses.
      </p>
      <div class="row">
        <button type="button" disabled={busy} onClick={() => void whole()}>
          Save the whole trial
        </button>
        <button type="button" disabled={busy} onClick={() => void tables()}>
          Save its tables
        </button>
      </div>
      <Trouble of={trouble} />
    </section>
  );
}

/** The tasters of the trial: what is kept of each, and a number in place of a name. */
export function People({ trial }: { trial: TrialView }) {
  const [ladders, again] = useLoaded(trial.trial, () => ask('listLadders', { trial: trial.trial }));
  const people = [
    ...new Set([
      ...trial.roundViews.flatMap(({ sittings }) => sittings.flatMap(({ assessors }) => assessors)),
      ...(ladders.state === 'here' ? ladders.value.flatMap(tastersOf) : []),
    ]),
  ];
  const [erased, setErased] = useState<Answer<'eraseTaster'> | null>(null);
  const { busy, trouble, run } = useAct();
  const save = (assessor: string) =>
    run(async () => saveJson('taster.json', await ask('exportTaster', { trial: trial.trial, assessor })));
  const erase = (assessor: string) =>
    run(async () => {
      setErased(await ask('eraseTaster', { trial: trial.trial, assessor }));
      await openTrialOf(trial.trial);
      again();
    });
  if (people.length === 0) return null;
  return (
    <section>
      <h2>People</h2>
      <p>
        A taster may ask for all that is kept of them, and for their name to be taken out. Their answers stay,
        under a number, so that what was read before can be read again.
      </p>
      <ul class="people">
        {people.map((name) => (
          <li key={name}>
            <strong>{name}</strong>
            <button type="button" class="quiet" disabled={busy} onClick={() => void save(name)}>
              Save what is kept of {name}
            </button>
            <Sure says={`Take out the name ${name}`} yes="Take it out" act={() => erase(name)}>
              A number takes the place of {name} everywhere in this trial, the record and stored results
              included. It cannot be undone.
            </Sure>
          </li>
        ))}
      </ul>
      <Trouble of={trouble} />
      {erased !== null && <Erased of={erased} />}
    </section>
  );
}

function tastersOf({ trays }: LadderView): string[] {
  return trays.map(({ taster }) => taster);
}

function Erased({ of: { name, backups, alsoIn } }: { of: Answer<'eraseTaster'> }) {
  return (
    <Care>
      <p role="status">The name is gone from this trial; {name} stands in its place.</p>
      {backups.length > 0 && (
        <p>
          {count(backups.length, 'older copy', 'older copies')} of the data still hold it: {listed(backups)}.
          Delete them where they lie if they are not needed.
        </p>
      )}
      {alsoIn.length > 0 && (
        <p>A taster of that name, perhaps somebody else, also sits in {listed(alsoIn)}.</p>
      )}
    </Care>
  );
}

function saveJson(name: string, value: unknown): void {
  saveText(name, `${JSON.stringify(value, null, 2)}\n`, 'application/json');
}
