import { computed, effect, signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { lookWhoIsAsking, me } from './access.ts';
import { EnterPage } from './pages/enter.tsx';
import { TrialsPage } from './pages/trials.tsx';
import { Alone } from './parts/alone.tsx';
import { Await } from './parts/await.tsx';
import { KeyHelp } from './parts/key-help.tsx';
import { lazyPage } from './parts/lazy.tsx';
import { LightSwitch } from './parts/light-switch.tsx';
import { PageHead } from './parts/page.tsx';
import { forgetUndo, UndoLine } from './parts/undo.tsx';
import { type Place, readPlace, shelfAddress } from './routes.ts';
import { fetchCodeOf, fetchOtherCode, TrialHouse } from './trial-house.tsx';
import { closeTrial, openTrial, openTrialOf } from './trial-store.ts';

const NewTrial = lazyPage(() => import('./brief/new-trial.tsx').then((room) => room.NewTrial));
const CopiesPage = lazyPage(() => import('./pages/copies.tsx').then((room) => room.CopiesPage));
const PourerPage = lazyPage(() => import('./pages/pourer.tsx').then((room) => room.PourerPage));
const ShelfPage = lazyPage(() => import('./shelf/shelf-page.tsx').then((room) => room.ShelfPage));
const LotPage = lazyPage(() => import('./shelf/lot-page.tsx').then((room) => room.LotPage));
const TeachingPage = lazyPage(() => import('./teaching/teaching-page.tsx').then((room) => room.TeachingPage));
const OldPage = lazyPage(() => import('./old/old-page.tsx').then((room) => room.OldPage));

const place = signal<Place>(readPlace(location.hash));
addEventListener('hashchange', () => {
  const next = readPlace(location.hash);
  if (trialOf(next) !== trialOf(place.value)) forgetUndo();
  arrive(next);
  scrollTo(0, 0);
});
void lookWhoIsAsking();
arrive(place.value);

/** The trial is asked for at once, in the hope that the maker asks: whoever does not is refused, and shown the way in. */
const asked = computed(() => (me.value.state === 'loading' || isMaker() ? trialOf(place.value) : null));
effect(() => {
  if (asked.value === null) closeTrial();
  else void openTrialOf(asked.value);
});

/** Milliseconds without anything to do after which the page that was opened stands. */
const CALM = 3000;

function arrive(next: Place): void {
  if ('trial' in next) void fetchCodeOf(next);
  place.value = next;
}

/** The workbench: a masthead, and the page of where the maker is. */
export function App() {
  const here = place.value;
  const maker = isMaker();
  useEffect(() => {
    if (!maker) return;
    // What is shown first comes first: the page, its numbers, its charts.
    const later = setTimeout(fetchOtherCode, CALM);
    return () => clearTimeout(later);
  }, [maker]);
  return (
    <>
      {here.page !== 'print' && <Masthead />}
      <Inside place={here} />
      <UndoLine />
    </>
  );
}

function isMaker(): boolean {
  return me.value.state === 'here' && me.value.value.role === 'maker';
}

/** The page of a place, for those who may see it. */
function Inside({ place: here }: { place: Place }) {
  const asking = me.value;
  if (here.page === 'pour' || (asking.state === 'here' && asking.value.role === 'pourer'))
    return <Alone>{<PourerPage token={here.page === 'pour' ? here.token : ''} />}</Alone>;
  if (asking.state !== 'here')
    return (
      <Alone waits={asking.state === 'loading' && 'trial' in here && here.page !== 'print'}>
        <Await of={asking} what="the workbench" again={() => void lookWhoIsAsking()}>
          {() => null}
        </Await>
      </Alone>
    );
  if (asking.value.role !== 'maker')
    return (
      <Alone>
        <EnterPage secret={asking.value.secret} />
      </Alone>
    );
  return 'trial' in here ? <TrialHouse place={here} /> : <OutsideTrials place={here} />;
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
      {me.value.state === 'here' && me.value.value.role === 'maker' && <a href={shelfAddress()}>Shelf</a>}
      <PlainLine />
      <LightSwitch />
      <KeyHelp />
    </header>
  );
}

/** Said on every page where it holds: plain http beyond this machine can be read along. */
function PlainLine() {
  const asking = me.value;
  if (asking.state !== 'here' || asking.value.secret) return null;
  return <span class="small plain">Not encrypted: scores and passcode can be read on this network</span>;
}

/** The address holds the place, so the jump is made by hand. */
function skip(): void {
  document.querySelector<HTMLElement>('main h1')?.focus();
}

function OutsideTrials({ place }: { place: Place }) {
  return (
    <Alone>
      {place.page === 'trials' && <TrialsPage />}
      {place.page === 'new' && <NewTrial />}
      {place.page === 'copies' && <CopiesPage />}
      {place.page === 'shelf' &&
        (place.lot === null ? <ShelfPage /> : <LotPage key={place.lot} lot={place.lot} />)}
      {place.page === 'old' && <OldPage />}
      {place.page === 'teaching' && <TeachingPage lesson={place.lesson} query={place.query} />}
      {place.page === 'unknown' && (
        <>
          <PageHead title="There is no such page">{place.address} leads nowhere here.</PageHead>
          <a href="#/">To the trials</a>
        </>
      )}
    </Alone>
  );
}

function trialOf(place: Place): string | null {
  return 'trial' in place ? place.trial : null;
}
