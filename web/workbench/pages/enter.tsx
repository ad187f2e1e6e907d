import { useState } from 'preact/hooks';
import { lookWhoIsAsking } from '../access.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { Trouble } from '../parts/await.tsx';
import { Care, PageHead } from '../parts/page.tsx';
import { ask } from '../server.ts';

/** The door: the maker's passcode, where the workbench is open to the network. */
export function EnterPage({ secret }: { secret: boolean }) {
  const [passcode, setPasscode] = useState('');
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const enter = async (event: Event) => {
    event.preventDefault();
    setTrouble(null);
    try {
      await ask('enter', {}, { passcode });
      await lookWhoIsAsking();
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
    }
  };
  return (
    <>
      <PageHead title="The maker’s passcode">
        It was printed where the workbench was started. Tasters need none: they have their own links.
      </PageHead>
      {!secret && (
        <Care>
          <p>What is typed here can be read by others on this network: the connection is not encrypted.</p>
        </Care>
      )}
      <form class="key-form" onSubmit={(event) => void enter(event)}>
        <div class="field">
          <label for="passcode">Passcode</label>
          <input
            id="passcode"
            type="password"
            autocomplete="current-password"
            value={passcode}
            onInput={(event) => setPasscode(event.currentTarget.value)}
          />
        </div>
        <button type="submit" class="do" disabled={passcode === ''}>
          Enter
        </button>
      </form>
      <Trouble of={trouble} />
    </>
  );
}
