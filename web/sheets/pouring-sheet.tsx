import type { PouringSheet as Pouring } from '../../trials/schema/api.ts';
import type { Brief } from '../../trials/schema/brief.ts';
import type { JugDose } from '../../trials/schema/jug-doses.ts';
import { dosingRows } from './dosing-rows.ts';
import { decimals, figure } from './figures.ts';
import { Sheet } from './sheet.tsx';

/** For whoever pours: each tray left to right, then what goes into each jug. */
export function PouringSheet({ brief, pouring }: { brief: Brief; pouring: Pouring }) {
  const most = Math.max(0, ...pouring.trays.map(({ cups }) => cups.length));
  const filled = pouring.cupMillilitres === null ? '' : `${figure(pouring.cupMillilitres)} mL in each cup. `;
  const says =
    pouring.hidden.length > 0
      ? `${filled}Write the name under each cup and pour; then have somebody stick on these numbers without looking, or shuffle the cups and stick them on yourself. The names are read after the last ballot.`
      : `${filled}Check the number on the cup against the square before you pour. Not for tasters: it names the mixes.`;
  return (
    <Sheet title="Pouring sheet" of={`${brief.name}, ${pouring.label}`} says={says} class="wide">
      <table class="grid">
        <thead>
          <tr>
            <th scope="col">tray</th>
            {Array.from({ length: most }, (_, index) => (
              <th scope="col" key={index}>
                {index + 1}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {pouring.trays.map(({ assessor, cups }) => (
            <tr key={assessor}>
              <th scope="row">{assessor}</th>
              {Array.from({ length: most }, (_, index) => (
                <PouredCup key={index} cup={cups[index]} />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <Cautions of={pouring.cautions} />
      <Jugs brief={brief} rows={dosingRows(brief, pouring)} doses={pouring.doses} />
    </Sheet>
  );
}

function PouredCup({ cup }: { cup: Pouring['trays'][number]['cups'][number] | undefined }) {
  if (cup === undefined) return <td class="no-cup" />;
  return (
    <td>
      <span class="code">{cup.code}</span>
      <span class="of-mix">{cup.mix}</span>
      <span class="tick" />
    </td>
  );
}

/** What whoever pours says to the tasters; it stands on their ballots too. */
function Cautions({ of }: { of: readonly string[] }) {
  if (of.length === 0) return null;
  return (
    <section class="cautions whole-block">
      <h2>Tell the tasters before the first cup</h2>
      <ul class="small">
        {of.map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </section>
  );
}

interface JugsProps {
  brief: Brief;
  rows: readonly JugDose[];
  doses: Readonly<Record<string, number>>;
}

function Jugs({ brief, rows, doses }: JugsProps) {
  const { readability } = brief.batch;
  return (
    <section class="whole-block">
      <h2>Jugs</h2>
      <table class="lines">
        <thead>
          <tr>
            {['mix', 'cups', 'drink, mL', 'dose, mL/L', 'weigh in, g', 'of', 'known to', 'weighed, g'].map(
              (head) => (
                <th scope="col" key={head}>
                  {head}
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ mix, cups, dose }) => (
            <tr key={mix}>
              <th scope="row">{mix}</th>
              <td>{cups}</td>
              <td>{dose === null ? '' : Math.ceil(dose.drinkMillilitres)}</td>
              <td>{Object.hasOwn(doses, mix) ? figure(doses[mix]!) : ''}</td>
              <td>{dose === null ? '' : dose.weighGrams.toFixed(decimals(readability))}</td>
              <td>{dose === null ? 'poured as it is' : SUBSTANCE[dose.fold]}</td>
              <td>{dose === null ? '' : `${figure(100 * dose.relativeError, 2)} %`}</td>
              <td class="blank" />
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small">
        Drink with a tenth over. A dilution is made by mass: one part concentrate, the rest 96 % spirit. Slow
        drops may not register: lift the vessel and read again.{tooCoarse(rows)}
      </p>
    </section>
  );
}

const SUBSTANCE = { 1: 'the concentrate', 10: 'its tenfold dilution' } as const;

function tooCoarse(rows: readonly JugDose[]): string {
  const larger = rows.flatMap(({ mix, dose }) =>
    dose === null || dose.isKnown ? [] : [`${mix} from ${Math.ceil(dose.knownFromMillilitres)} mL`],
  );
  return larger.length === 0 ? '' : ` Known well enough only in a larger jug: ${larger.join(', ')}.`;
}
