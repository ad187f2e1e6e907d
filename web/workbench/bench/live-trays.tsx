import { useEffect, useRef, useState } from 'preact/hooks';
import type { Live, SittingSummary, TrialView } from '../../../trials/schema/api.ts';
import { ask, follow } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';
import { standsAt, troublesOf } from './tray-state.ts';

/** How often silence is looked at anew, in milliseconds. */
const LOOK = 10_000;

/** Each taster's tray; a cup fills when every question about it is answered. */
export function LiveTrays({ trial, sitting }: { trial: TrialView; sitting: SittingSummary }) {
  const { live, lost, now } = useLive(trial, sitting);
  if (live === null)
    return lost ? (
      <p class="soft">The trays cannot be seen just now.</p>
    ) : (
      <p class="soft leads">Looking at the trays …</p>
    );
  return (
    <section aria-label="Trays">
      {lost && <p class="soft">The line is lost; it is picked up again by itself.</p>}
      <ul class="trays">
        {live.trays.map((tray) => (
          <Tray key={tray.assessor} tray={tray} open={live.state === 'open'} now={now} />
        ))}
      </ul>
    </section>
  );
}

/** The trays as they change, and the workbench's time. */
function useLive(trial: TrialView, sitting: SittingSummary) {
  const [live, setLive] = useState<Live | null>(null);
  const [lost, setLost] = useState(false);
  const [, look] = useState(0);
  const filled = useRef<number | null>(null);
  const ahead = useRef(0);
  useEffect(() => {
    const params = { trial: trial.trial, sitting: sitting.sitting };
    const hear = (next: Live) => {
      ahead.current = Date.parse(next.now) - Date.now();
      setLost(false);
      setLive(next);
      const cups = next.trays.reduce((sum, tray) => sum + tray.filled, 0);
      const moved = filled.current !== null && filled.current !== cups;
      filled.current = cups;
      if (moved || next.state !== sitting.state) void openTrialOf(trial.trial);
    };
    if (sitting.state === 'closed') {
      ask('readLive', params).then(hear, () => setLost(true));
      return;
    }
    const timer = setInterval(() => look((n) => n + 1), LOOK);
    const stop = follow('followLive', params, hear, () => setLost(true));
    return () => {
      clearInterval(timer);
      stop();
    };
  }, [trial.trial, sitting.sitting, sitting.state, sitting.assessors.length, sitting.answers]);
  return { live, lost, now: Date.now() + ahead.current };
}

interface TrayProps {
  tray: Live['trays'][number];
  open: boolean;
  now: number;
}

function Tray({ tray, open, now }: TrayProps) {
  const troubles = troublesOf(tray, now);
  return (
    <li class={tray.absent ? 'absent' : undefined}>
      <span class="who">{tray.assessor}</span>
      <span class="tray" role="img" aria-label={`${tray.filled} of ${tray.cups} cups answered`}>
        {Array.from({ length: tray.cups }, (_, cup) => (
          <span
            key={cup}
            class={`cup ${cup < tray.filled ? 'filled' : ''} ${open && cup + 1 === tray.at ? 'at' : ''}`}
          />
        ))}
      </span>
      <span class="soft small">{standsAt(tray, open)}</span>
      {troubles.map((text) => (
        <span key={text} class="look small">
          {text}
        </span>
      ))}
    </li>
  );
}
