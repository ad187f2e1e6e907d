import { useEffect, useRef, useState } from 'preact/hooks';
import type { Live, SittingSummary, TrialView } from '../../../trials/schema/api.ts';
import { ask, follow } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';

/** Each taster's tray; a cup fills when every question about it is answered. */
export function LiveTrays({ trial, sitting }: { trial: TrialView; sitting: SittingSummary }) {
  const [live, setLive] = useState<Live | null>(null);
  const [lost, setLost] = useState(false);
  const filled = useRef<number | null>(null);
  useEffect(() => {
    const params = { trial: trial.trial, sitting: sitting.sitting };
    const hear = (next: Live) => {
      setLost(false);
      setLive(next);
      const cups = next.trays.reduce((sum, tray) => sum + tray.filled, 0);
      const moved = filled.current !== null && filled.current !== cups;
      filled.current = cups;
      if (moved || next.state !== sitting.state) void openTrialOf(trial.trial);
    };
    if (sitting.state === 'closed') {
      ask('readLive', params).then(setLive, () => setLost(true));
      return;
    }
    return follow('followLive', params, hear, () => setLost(true));
  }, [trial.trial, sitting.sitting, sitting.state]);
  if (live === null)
    return <p class="soft">{lost ? 'The trays cannot be seen just now.' : 'Looking at the trays …'}</p>;
  return (
    <section aria-label="Trays">
      {lost && <p class="soft">The line is lost; it is picked up again by itself.</p>}
      <ul class="trays">
        {live.trays.map((tray) => (
          <Tray key={tray.assessor} tray={tray} open={live.state === 'open'} />
        ))}
      </ul>
    </section>
  );
}

function Tray({ tray, open }: { tray: Live['trays'][number]; open: boolean }) {
  return (
    <li>
      <span class="who">{tray.assessor}</span>
      <span class="tray" role="img" aria-label={`${tray.filled} of ${tray.cups} cups answered`}>
        {Array.from({ length: tray.cups }, (_, cup) => (
          <span
            key={cup}
            class={`cup ${cup < tray.filled ? 'filled' : ''} ${open && cup + 1 === tray.at ? 'at' : ''}`}
          />
        ))}
      </span>
      <span class="soft small">{stateOf(tray, open)}</span>
    </li>
  );
}

function stateOf({ mayTaste, filled, cups, at, lastHeard }: Live['trays'][number], open: boolean): string {
  if (filled >= cups) return 'done';
  if (!mayTaste) return lastHeard === null ? 'not heard of yet' : 'has not said “I may taste” yet';
  if (!open) return 'ready';
  return at > 0 ? `at cup ${at} of ${cups}` : 'has begun';
}
