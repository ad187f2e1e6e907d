import { useLoaded } from '../loaded.ts';
import { figure } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { type Answer, ask } from '../server.ts';

/** Which mix goes into which cup, tray by tray. */
export function PouringList({ trial, sitting }: { trial: string; sitting: string }) {
  const [sheet, again] = useLoaded(`${trial} ${sitting}`, () => ask('readPouring', { trial, sitting }));
  return (
    <Await of={sheet} what="the trays" again={again}>
      {(found) => <Trays sheet={found} />}
    </Await>
  );
}

function Trays({ sheet }: { sheet: Answer<'readPouring'> }) {
  return (
    <>
      {sheet.cupMillilitres !== null && <p class="soft">{figure(sheet.cupMillilitres)} mL in each cup.</p>}
      <ul class="pouring">
        {sheet.trays.map(({ assessor, cups }) => (
          <li key={assessor}>
            <h3 class="tray-name">{assessor}</h3>
            <ol class="tray-cups">
              {cups.map(({ position, code, mix }) => (
                <li key={position}>
                  <span class="cup-code number">{code}</span> {mix}
                  {sheet.doses[mix] !== undefined && (
                    <span class="soft small"> {figure(sheet.doses[mix])} mL/L</span>
                  )}
                </li>
              ))}
            </ol>
          </li>
        ))}
      </ul>
    </>
  );
}
