import type { TrialView } from '../../trials/schema/api.ts';
import { StoryPage } from './pages/story-page.tsx';
import { Alone } from './parts/alone.tsx';
import { Await } from './parts/await.tsx';
import { expectCharts } from './parts/chart.tsx';
import { fetchInTurn, lazyPage } from './parts/lazy.tsx';
import { PageHead } from './parts/page.tsx';
import { Spine } from './parts/spine.tsx';
import { type Place, trialAddress } from './routes.ts';
import { openTrial, openTrialOf } from './trial-store.ts';

const BriefPage = lazyPage(() => import('./brief/brief-page.tsx').then((room) => room.BriefPage));
const LadderPage = lazyPage(() => import('./ladder/ladder-page.tsx').then((room) => room.LadderPage));
const PlannedPage = lazyPage(() => import('./pages/planned.tsx').then((room) => room.PlannedPage));
const WeighPage = lazyPage(() => import('./bench/weigh-page.tsx').then((room) => room.WeighPage));
const RestPage = lazyPage(() => import('./bench/rest-page.tsx').then((room) => room.RestPage));
const DosePage = lazyPage(() => import('./bench/dose-page.tsx').then((room) => room.DosePage));
const PourPage = lazyPage(() => import('./bench/pour-page.tsx').then((room) => room.PourPage));
const TastePage = lazyPage(() => import('./bench/taste-page.tsx').then((room) => room.TastePage));
const RecordPage = lazyPage(() => import('./pages/record.tsx').then((room) => room.RecordPage));
const PlanPage = lazyPage(() => import('./plan/plan-page.tsx').then((room) => room.PlanPage));
const ReadPage = lazyPage(() => import('./reading/read-page.tsx').then((room) => room.ReadPage));
const NextPage = lazyPage(() => import('./pages/next.tsx').then((room) => room.NextPage));
const DeskPage = lazyPage(() => import('./desk/desk-page.tsx').then((room) => room.DeskPage));
const ProofPage = lazyPage(() => import('./pages/proof.tsx').then((room) => room.ProofPage));
const CardPage = lazyPage(() => import('./pages/card.tsx').then((room) => room.CardPage));
const LedgerPage = lazyPage(() => import('./pages/ledger.tsx').then((room) => room.LedgerPage));
const PrintPage = lazyPage(() => import('./pages/print-page.tsx').then((room) => room.PrintPage));

type InTrial = Extract<Place, { trial: string }>;
/** Printed sheets stand alone, outside the house. */
type InHouse = Exclude<InTrial, { page: 'print' }>;

/** The pages of one trial beside its spine. */
export function TrialHouse({ place }: { place: InTrial }) {
  const open = openTrial.value;
  if (open.state !== 'here')
    return (
      <Alone waits={open.state === 'loading'}>
        <PageHead title="Trial" />
        <Await of={open} what="the trial" again={() => void openTrialOf(place.trial)}>
          {() => null}
        </Await>
        <a href="#/">To the trials</a>
      </Alone>
    );
  if (place.page === 'print') return <PrintPage trial={open.value} sheet={place.sheet} query={place.query} />;
  return (
    <div class="house">
      <Spine trial={open.value} place={place} />
      <main id="main">
        <TrialPage trial={open.value} place={place} />
      </main>
    </div>
  );
}

const PAGES = {
  story: StoryPage,
  brief: BriefPage,
  ladder: LadderPage,
  plan: PlanPage,
  next: NextPage,
  desk: DeskPage,
  proof: ProofPage,
  card: CardPage,
  record: RecordPage,
  ledger: LedgerPage,
} as const;

const STEP_PAGES = {
  plan: PlannedPage,
  weigh: WeighPage,
  rest: RestPage,
  dose: DosePage,
  pour: PourPage,
  taste: TastePage,
  read: ReadPage,
} as const;

/** Fetches the code of a page, and what draws its charts, while the trial itself is still on its way. */
export async function fetchCodeOf(place: InTrial): Promise<void> {
  const Page = pageOf(place);
  if ('ready' in Page) await Page.ready();
  if (place.page === 'step' && place.step === 'read') expectCharts();
}

/** Fetches the code of all other pages of a trial, so that going on never waits for it. */
export function fetchOtherCode(): void {
  fetchInTurn([...Object.values(PAGES), ...Object.values(STEP_PAGES)].filter((Page) => 'ready' in Page));
}

function pageOf(place: InTrial) {
  if (place.page === 'print') return PrintPage;
  return place.page === 'trial' ? PAGES[place.at] : STEP_PAGES[place.step];
}

function TrialPage({ trial, place }: { trial: TrialView; place: InHouse }) {
  if (place.page === 'trial') {
    const Page = PAGES[place.at];
    return <Page key={trial.trial} trial={trial} query={place.query} />;
  }
  const round = trial.roundViews.find((one) => one.round === place.round);
  if (round === undefined) return <NoRound trial={trial} round={place.round} />;
  const Page = STEP_PAGES[place.step];
  return <Page key={`${trial.trial} ${round.round}`} trial={trial} round={round} query={place.query} />;
}

function NoRound({ trial, round }: { trial: TrialView; round: number }) {
  return (
    <>
      <PageHead title={`There is no round ${round} yet`} />
      <a href={trialAddress(trial.trial)}>Where the trial stands</a>
    </>
  );
}
