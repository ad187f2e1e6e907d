import type { TrialView } from '../../../trials/schema/api.ts';
import { BallotSheets } from '../../sheets/ballot-sheet.tsx';
import { BottleLabels } from '../../sheets/bottle-labels.tsx';
import { CupLabels } from '../../sheets/cup-labels.tsx';
import { KeySheet } from '../../sheets/key-sheet.tsx';
import { PouringSheet } from '../../sheets/pouring-sheet.tsx';
import { WeighingSheet } from '../../sheets/weighing-sheet.tsx';
import { bottlesOf } from '../bench/weighing.ts';
import { PrintedCard } from '../card/printed-card.tsx';
import { useLoaded } from '../loaded.ts';
import { Await } from '../parts/await.tsx';
import { type Sheet, stepAddress, trialAddress } from '../routes.ts';
import { type Answer, ask } from '../server.ts';

interface PrintProps {
  trial: TrialView;
  sheet: Sheet;
  query: URLSearchParams;
}

const TITLES: Record<Sheet, string> = {
  weighing: 'To print: weighing sheet',
  labels: 'To print: labels',
  pouring: 'To print: pouring sheet and key',
  ballots: 'To print: ballots',
  key: 'To print: the key',
  card: 'To print: the card',
};

/** Sheets as they will be printed, with a button that prints them. */
export function PrintPage({ trial, sheet, query }: PrintProps) {
  return (
    <main class="sheets">
      <div class="print-bar">
        <h1 class="print-title">{TITLES[sheet]}</h1>
        <button type="button" class="do" onClick={() => print()}>
          Print
        </button>
        <a href={backFrom(trial, sheet, query)}>Back</a>
      </div>
      <Printed trial={trial} sheet={sheet} query={query} />
    </main>
  );
}

function Printed({ trial, sheet, query }: PrintProps) {
  if (sheet === 'card') return <PrintedCard trial={trial} query={query} />;
  const sitting = query.get('sitting');
  if (sitting !== null) return <OfSitting trial={trial} sheet={sheet} sitting={sitting} />;
  const round = trial.roundViews.find((one) => String(one.round) === query.get('round'));
  if (round === undefined) return <p role="alert">There is no such round or sitting in this trial.</p>;
  const earlier = trial.roundViews.filter((one) => one.round < round.round);
  const bottles = bottlesOf(trial, round, earlier);
  const of = `round ${round.round}`;
  if (sheet === 'weighing') return <WeighingSheet brief={trial.brief} of={of} bottles={bottles} />;
  if (sheet === 'labels') return <BottleLabels brief={trial.brief} of={of} bottles={bottles} />;
  return <p role="alert">This sheet belongs to a sitting: open it from the pouring page.</p>;
}

function OfSitting({ trial, sheet, sitting }: { trial: TrialView; sheet: Sheet; sitting: string }) {
  const [loaded, again] = useLoaded(`${trial.trial} ${sitting}`, () =>
    ask('readPouring', { trial: trial.trial, sitting }),
  );
  return (
    <Await of={loaded} what="the trays" again={again}>
      {(pouring) => <SittingSheet brief={trial.brief} sheet={sheet} pouring={pouring} />}
    </Await>
  );
}

interface SittingSheetProps {
  brief: TrialView['brief'];
  sheet: Sheet;
  pouring: Answer<'readPouring'>;
}

function SittingSheet({ brief, sheet, pouring }: SittingSheetProps) {
  if (sheet === 'ballots') return <BallotSheets brief={brief} pouring={pouring} />;
  if (sheet === 'labels') return <CupLabels pouring={pouring} />;
  if (sheet === 'key') return <KeySheet brief={brief} pouring={pouring} />;
  return (
    <>
      <PouringSheet brief={brief} pouring={pouring} />
      <KeySheet brief={brief} pouring={pouring} />
    </>
  );
}

function backFrom(trial: TrialView, sheet: Sheet, query: URLSearchParams): string {
  if (sheet === 'card') return trialAddress(trial.trial, 'card');
  const sitting = query.get('sitting');
  const round =
    sitting === null
      ? trial.roundViews.find((one) => String(one.round) === query.get('round'))
      : trial.roundViews.find(({ sittings }) => sittings.some((one) => one.sitting === sitting));
  if (round === undefined) return trialAddress(trial.trial);
  return stepAddress(trial.trial, round.round, sitting === null ? 'weigh' : 'pour');
}
