import type { TrialView } from '../../../trials/schema/api.ts';
import { CardSheet } from '../../sheets/card-sheet.tsx';
import { decimals } from '../../sheets/figures.ts';
import { useLoaded } from '../loaded.ts';
import { Await } from '../parts/await.tsx';
import { latest } from '../results.ts';
import { ask } from '../server.ts';
import { cardNames } from './names.ts';

/** A published version of the card, or the draft of the next one, as it will be printed. */
export function PrintedCard({ trial, query }: { trial: TrialView; query: URLSearchParams }) {
  const version = query.get('version');
  const reading = query.get('reading') ?? latest(trial, 'next');
  const key = `${trial.trial} ${version} ${reading}`;
  const [loaded, again] = useLoaded(key, async () => {
    const params = { trial: trial.trial };
    const versions = await ask('listCards', params);
    if (version !== null) return { versions, ...(await ask('readCard', { ...params, version })) };
    if (reading === null) return null;
    return { versions, card: await ask('draftCard', params, { reading }), qr: null };
  });
  return (
    <Await of={loaded} what="the card" again={again}>
      {(found) =>
        found === null ? (
          <p role="alert">There is no formula yet: read a round first.</p>
        ) : (
          <CardSheet
            card={found.card}
            before={found.versions.find((one) => one.version === found.card.version - 1) ?? null}
            places={decimals(trial.brief.batch.readability)}
            names={cardNames(trial)}
            qr={found.qr}
          />
        )
      }
    </Await>
  );
}
