import type { TrialView } from '../../../trials/schema/api.ts';
import { useLoaded } from '../loaded.ts';
import { when } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { PageHead } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { stepAddress, trialAddress } from '../routes.ts';
import { ask, type Params } from '../server.ts';
import { SpentSection } from './spent.tsx';
import { People, TakeAlong } from './take-along.tsx';

/** Who did what when, and every stored result. Nothing here is ever changed. */
export function RecordPage({ trial }: { trial: TrialView }) {
  const kept = trial.readings.filter(({ kind }) => kind !== 'predict');
  const params: Params = { trial: trial.trial };
  const [acts, again] = useLoaded(`acts ${trial.trial} ${trial.changed}`, () => ask('listActs', params), {
    keeps: true,
  });
  return (
    <>
      <PageHead title="Record">Who did what when. It only grows.</PageHead>
      <Await of={acts} what="the record" again={again} leads>
        {(list) =>
          list.length === 0 ? (
            <p class="soft">Nothing has been done yet.</p>
          ) : (
            <Table
              caption="Acts, latest first"
              rows={[...list].reverse()}
              columns={[
                { head: 'When', oneLine: true, cell: ({ at }) => when(at) },
                { head: 'Who', cell: ({ who }) => who },
                { head: 'What', cell: ({ act }) => act },
                { head: 'More', cell: ({ detail }) => detail },
              ]}
            />
          )
        }
      </Await>
      <SpentSection trial={trial} />
      <TakeAlong trial={trial} />
      <People trial={trial} />
      <h2>Stored results</h2>
      {kept.length === 0 ? (
        <p class="soft">None yet.</p>
      ) : (
        <ul>
          {kept.map((reading) => (
            <li key={reading.reading}>
              <a href={addressOf(trial, reading)}>{KINDS[reading.kind] ?? reading.kind}</a>,{' '}
              {when(reading.at)}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

const KINDS: Record<string, string> = {
  plan: 'A plan',
  read: 'A reading of the scores',
  next: 'Proposed mixes',
};

function addressOf(trial: TrialView, { kind, reading, round }: TrialView['readings'][number]): string {
  if (kind === 'plan') return trialAddress(trial.trial, 'plan', { reading });
  if (kind === 'next') return trialAddress(trial.trial, 'next', { reading });
  if (kind === 'read')
    return stepAddress(trial.trial, round ?? Math.max(1, trial.rounds), 'read', { reading });
  return trialAddress(trial.trial, 'desk');
}
