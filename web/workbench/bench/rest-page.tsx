import { useEffect, useState } from 'preact/hooks';
import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import { when } from '../numbers.ts';
import { Onward } from '../parts/onward.tsx';
import { Care, PageHead } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { MarkDone } from './mark-done.tsx';
import { ageSpread, duration, restingOf, restMissing } from './resting.ts';

/** How long each bottle has stood, and when all are ready. */
export function RestPage({ trial, round }: { trial: TrialView; round: RoundView }) {
  const now = useNow(30_000);
  const resting = restingOf(round, now);
  const missing = restMissing(resting, round.restHours);
  const spread = ageSpread(resting, round.restHours);
  return (
    <>
      <PageHead title={`Round ${round.round}: rest`}>{readyWhen(resting, now)}</PageHead>
      {spread.uneven && (
        <Care>
          <p>
            The bottles are {duration(spread.hours)} apart in age. Taste each at the same age where you can;
            what could not wait is read all the same.
          </p>
        </Care>
      )}
      <Table
        caption={`Bottles and how long they have stood; planned ${round.restHours} h`}
        rows={resting}
        columns={[
          { head: 'Bottle', cell: ({ blend }) => blend },
          {
            head: 'mixed',
            oneLine: true,
            cell: ({ weighedAt }) => (weighedAt === null ? 'not yet' : when(weighedAt)),
          },
          { head: 'has stood', number: true, cell: ({ hours }) => (hours === null ? '–' : duration(hours)) },
          {
            head: 'still to stand',
            number: true,
            cell: ({ left }) => (left === null ? '–' : left === 0 ? 'ready' : duration(left)),
          },
        ]}
      />
      {missing !== null && (
        <Care>
          <p role="status">{missing}</p>
        </Care>
      )}
      <MarkDone
        trial={trial}
        round={round}
        step="rest"
        says="They have rested"
        early={missing !== null}
        then="dose"
      />
      <Onward trial={trial} round={round} step="rest" />
    </>
  );
}

function readyWhen(resting: ReturnType<typeof restingOf>, now: number): string {
  if (resting.some(({ left }) => left === null)) return 'Some bottles are not weighed yet.';
  const longest = Math.max(0, ...resting.map(({ left }) => left ?? 0));
  if (longest === 0) return 'All bottles have stood long enough.';
  return `Ready in ${duration(longest)}: ${when(new Date(now + longest * 3_600_000).toISOString())}.`;
}

function useNow(every: number): number {
  const [now, setNow] = useState(Date.now());
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), every);
    return () => clearInterval(timer);
  }, [every]);
  return now;
}
