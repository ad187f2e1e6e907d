import { useState } from 'preact/hooks';
import { useLoaded } from '../loaded.ts';
import { figure } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { Care } from '../parts/page.tsx';
import { type Answer, ask } from '../server.ts';

/** One tray at a time, as it is poured: large codes in the order of the cups, and what goes into each. */
export function TrayByTray({ trial, sitting }: { trial: string; sitting: string }) {
  const [sheet, again] = useLoaded(`${trial} ${sitting}`, () => ask('readPouring', { trial, sitting }));
  return (
    <Await of={sheet} what="the trays" again={again}>
      {(found) => <OneTray sheet={found} />}
    </Await>
  );
}

function OneTray({ sheet }: { sheet: Answer<'readPouring'> }) {
  const { trays, cupMillilitres, doses, cautions } = sheet;
  const [at, setAt] = useState(0);
  const [poured, setPoured] = useState<ReadonlySet<string>>(new Set());
  const tray = trays[Math.min(at, trays.length - 1)];
  if (tray === undefined) return <p class="soft">No tray is drawn.</p>;
  const turn = (cup: string, on: boolean) => {
    const next = new Set(poured);
    if (on) next.add(cup);
    else next.delete(cup);
    setPoured(next);
  };
  return (
    <section class="one-tray" aria-labelledby="tray-head">
      {at === 0 && cautions.length > 0 && (
        <Care>
          <p>Tell each taster before the first cup:</p>
          <ul>
            {cautions.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </Care>
      )}
      <h2 id="tray-head" aria-live="polite">
        Tray {at + 1} of {trays.length}: {tray.assessor}
      </h2>
      {cupMillilitres !== null && <p class="soft">{figure(cupMillilitres)} mL in each cup.</p>}
      <ol>
        {tray.cups.map(({ position, code, mix }) => {
          const cup = `${tray.assessor} ${code}`;
          return (
            <li key={position}>
              <label>
                <input
                  type="checkbox"
                  checked={poured.has(cup)}
                  onChange={(event) => turn(cup, event.currentTarget.checked)}
                />
                <span class="cup-code number">{code}</span>
                <span class="into">
                  {mix === '' ? 'as it comes: its name is underneath' : mix}
                  {doses[mix] !== undefined && <span class="soft small"> {figure(doses[mix])} mL/L</span>}
                </span>
              </label>
            </li>
          );
        })}
      </ol>
      <div class="row">
        <button type="button" disabled={at === 0} onClick={() => setAt(at - 1)}>
          Tray before
        </button>
        <button type="button" class="do" disabled={at + 1 >= trays.length} onClick={() => setAt(at + 1)}>
          Next tray
        </button>
      </div>
    </section>
  );
}
