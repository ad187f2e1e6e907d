import type { Brief } from '../../../trials/schema/brief.ts';
import { change, decimalsOf, grams } from '../numbers.ts';
import { Scroll } from '../parts/scroll.tsx';
import type { Pours } from './pours.ts';
import { type Bottle, tidy, type WeighLine } from './weighing.ts';

interface LinesProps {
  brief: Brief;
  bottle: Bottle;
  pours: Pours;
  clear: (id: string) => void;
}

/** All lines of a bottle: planned, weighed, the difference, the running total. */
export function BottleLines({ brief, bottle, pours, clear }: LinesProps) {
  const { readability } = brief.batch;
  const { noted, aims } = pours;
  const total = bottle.lines.reduce((sum, { id }) => sum + (noted[id] ?? 0), 0);
  const planned = bottle.lines.reduce((sum, line) => sum + (aims[line.id] ?? line.planned), 0);
  return (
    <Scroll label={`Lines of bottle ${bottle.blend}`}>
      <table>
        <caption class="unseen">Bottle {bottle.blend}, grams planned and as weighed</caption>
        <thead>
          <tr>
            <th scope="col">Component</th>
            <th scope="col" class="n">
              planned
            </th>
            <th scope="col" class="n">
              weighed
            </th>
            <th scope="col" class="n">
              difference
            </th>
            <td />
          </tr>
        </thead>
        <tbody>
          {bottle.lines.map((line) => (
            <Line
              key={line.id}
              line={line}
              aim={aims[line.id] ?? line.planned}
              noted={noted[line.id]}
              readability={readability}
              clear={clear}
            />
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">Total</th>
            <td class="n">{grams(planned, readability)} g</td>
            <td class="n">{grams(total, readability)} g</td>
            <td />
            <td />
          </tr>
        </tfoot>
      </table>
    </Scroll>
  );
}

interface LineProps {
  line: WeighLine;
  /** Its plan, or what a correction raised that to. */
  aim: number;
  noted: number | undefined;
  readability: number;
  clear: (id: string) => void;
}

function Line({ line, aim, noted, readability, clear }: LineProps) {
  return (
    <tr>
      <th scope="row">
        <span class="row-name">{line.name}</span>
      </th>
      <td class="n">
        {grams(aim, readability)}
        {aim !== line.planned && <span class="soft small"> (was {grams(line.planned, readability)})</span>}
      </td>
      <td class="n">{noted === undefined ? '' : grams(noted, readability)}</td>
      <td class="n">{noted === undefined ? '' : change(tidy(noted - aim), decimalsOf(readability))}</td>
      <td>
        {noted !== undefined && (
          <button type="button" class="quiet small" onClick={() => clear(line.id)}>
            weigh anew<span class="unseen"> {line.id}</span>
          </button>
        )}
      </td>
    </tr>
  );
}
