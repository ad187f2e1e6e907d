import { useEffect, useState } from 'preact/hooks';
import { lookWhoIsAsking, me } from '../access.ts';
import { TrayByTray } from '../bench/tray-by-tray.tsx';
import { type Loaded, troubleOf } from '../loaded.ts';
import { Trouble } from '../parts/await.tsx';
import { PageHead } from '../parts/page.tsx';
import { ask } from '../server.ts';

/** The page of whoever pours: codes and mixes of one sitting, no scores. */
export function PourerPage({ token }: { token: string }) {
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const [entered, setEntered] = useState<{ trial: string; sitting: string } | null>(null);
  useEffect(() => {
    if (token === '') return;
    ask('enterToPour', {}, { token })
      .then(async (found) => {
        setEntered(found);
        await lookWhoIsAsking();
        // The link is a key: it does not stay in the address.
        location.replace('#/pour');
      })
      .catch((thrown) => setTrouble(troubleOf(thrown)));
  }, [token]);
  const asking = me.value;
  const place = entered ?? (asking.state === 'here' ? asking.value.sitting : null);
  return (
    <>
      <PageHead title="Pour">Cups from left to right, as they stand on each tray.</PageHead>
      <Trouble of={trouble} />
      {place !== null && <TrayByTray trial={place.trial} sitting={place.sitting} />}
      {place === null && trouble === null && token === '' && (
        <p class="soft">Open the link that you were given.</p>
      )}
    </>
  );
}
