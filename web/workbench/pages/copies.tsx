import { useState } from 'preact/hooks';
import { useLoaded } from '../loaded.ts';
import { when } from '../numbers.ts';
import { useAct } from '../parts/act.ts';
import { Await, Trouble } from '../parts/await.tsx';
import { PageHead } from '../parts/page.tsx';
import { Sure } from '../parts/sure.tsx';
import { Table } from '../parts/table.tsx';
import { trialAddress } from '../routes.ts';
import { type Answer, ask } from '../server.ts';
import { wayOn } from '../way-on.ts';

/** Copies of all data: made, listed, put back; and trials taken in from files. */
export function CopiesPage() {
  const [copies, again] = useLoaded('copies', () => ask('listBackups'));
  const [done, setDone] = useState('');
  const { busy, trouble, run } = useAct();
  const make = () =>
    run(async () => {
      const { backup } = await ask('makeBackup');
      setDone(`All data is copied: ${backup}.`);
      again();
    });
  const putBack = (backup: string) =>
    run(async () => {
      const kept = await ask('restoreBackup', { backup });
      setDone(`The data is that of ${backup} now. What was there before is kept as ${kept.backup}.`);
      again();
    });
  return (
    <>
      <PageHead title="Copies of all data">
        A copy holds every trial, answer and act. It is made while people taste, without stopping them.
      </PageHead>
      <div class="row">
        <button type="button" class="do" disabled={busy} onClick={() => void make()}>
          Copy all data now
        </button>
      </div>
      <p role="status">{done}</p>
      <Trouble of={trouble} />
      <Await of={copies} what="the copies" again={again}>
        {(list) => <CopyList list={list} putBack={putBack} />}
      </Await>
      <p class="soft">
        Copies lie beside the data, on the same disk: keep one elsewhere too, with{' '}
        <code>dropwise backup FILE</code>.
      </p>
      <TrialFromFile />
    </>
  );
}

interface ListProps {
  list: Answer<'listBackups'>;
  putBack: (backup: string) => unknown;
}

function CopyList({ list, putBack }: ListProps) {
  if (list.length === 0) return <p class="soft">No copy yet.</p>;
  return (
    <Table
      caption="Copies, latest first"
      rows={[...list].sort((a, b) => b.at.localeCompare(a.at))}
      columns={[
        { head: 'Copy', cell: ({ backup }) => backup },
        { head: 'Made', oneLine: true, cell: ({ at }) => when(at) },
        { head: 'MB', value: ({ bytes }) => bytes / 1e6 },
        {
          head: '',
          cell: ({ backup }) => (
            <Sure says="Put it back" yes="Put this copy back" act={() => putBack(backup)}>
              All data becomes what it was when {backup} was made. What is there now is kept as a copy first.
            </Sure>
          ),
        },
      ]}
    />
  );
}

/** A trial that was saved as one document, here or elsewhere. */
function TrialFromFile() {
  const { trouble, run } = useAct();
  const choose = (input: HTMLInputElement) =>
    run(async () => {
      const file = input.files?.[0];
      input.value = '';
      if (file === undefined) return;
      const goOn = wayOn();
      const { trial } = await ask('importTrial', {}, documentIn(file.name, await file.text()));
      goOn(trialAddress(trial));
    });
  return (
    <section>
      <h2>A trial from a file</h2>
      <div class="field">
        <label for="trial-file">A file that was saved from a trial’s record page</label>
        <input
          id="trial-file"
          type="file"
          accept=".json,application/json"
          onChange={(event) => void choose(event.currentTarget)}
        />
        <p class="help">It comes in whole or not at all, beside what is there.</p>
      </div>
      <Trouble of={trouble} />
    </section>
  );
}

function documentIn(name: string, text: string): Record<string, unknown> {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, '')) as Record<string, unknown>;
  } catch {
    throw new Error(`${name} is not a trial as it is saved from its record page`);
  }
}
