import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { NewTrial } from './brief/new-trial.tsx';
import { TrialsPage } from './pages/trials.tsx';
import { KeyHelp } from './parts/key-help.tsx';
import { LightSwitch } from './parts/light-switch.tsx';
import { PageHead } from './parts/page.tsx';
import { forgetUndo, UndoLine } from './parts/undo.tsx';
import { type Place, readPlace } from './routes.ts';
import { TrialHouse } from './trial-house.tsx';
import { closeTrial, openTrial, openTrialOf } from './trial-store.ts';

const place = signal<Place>(readPlace(location.hash));
addEventListener('hashchange', () => {
  const next = readPlace(location.hash);
  if (trialOf(next) !== trialOf(place.value)) forgetUndo();
  place.value = next;
  scrollTo(0, 0);
});

/** The workbench: a masthead, and the page of where the maker is. */
export function App() {
  const here = place.value;
  const trial = trialOf(here);
  useEffect(() => {
    if (trial === null) closeTrial();
    else void openTrialOf(trial);
  }, [trial]);
  return (
    <>
      {here.page !== 'print' && <Masthead />}
      {'trial' in here ? <TrialHouse place={here} /> : <OutsideTrials place={here} />}
      <UndoLine />
    </>
  );
}

function Masthead() {
  const open = openTrial.value;
  return (
    <header class="masthead">
      <button type="button" class="skip" onClick={skip}>
        Skip to the page
      </button>
      <a class="home" href="#/">
        Dropwise
      </a>
      <span class="where">{open.state === 'here' ? open.value.name : ''}</span>
      <LightSwitch />
      <KeyHelp />
    </header>
  );
}

/** The address holds the place, so the jump is made by hand. */
function skip(): void {
  document.querySelector<HTMLElement>('main h1')?.focus();
}

function OutsideTrials({ place }: { place: Place }) {
  return (
    <div class="house alone">
      <main id="main">
        {place.page === 'trials' && <TrialsPage />}
        {place.page === 'new' && <NewTrial />}
        {place.page === 'unknown' && (
          <>
            <PageHead title="There is no such page">{place.address} leads nowhere here.</PageHead>
            <a href="#/">To the trials</a>
          </>
        )}
      </main>
    </div>
  );
}

function trialOf(place: Place): string | null {
  return 'trial' in place ? place.trial : null;
}
