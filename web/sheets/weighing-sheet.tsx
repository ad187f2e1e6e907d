import type { Brief } from '../../trials/schema/brief.ts';
import { decimals } from './figures.ts';
import type { PaperBottle } from './paper-bottle.ts';
import { Sheet, WriteIn } from './sheet.tsx';

/** Bottle by bottle: what goes in, what the balance then shows, and room for what it did show. */
export function WeighingSheet({
  brief,
  of,
  bottles,
}: {
  brief: Brief;
  of: string;
  bottles: readonly PaperBottle[];
}) {
  const cautions = brief.cautions.filter(({ to }) => to === 'bench');
  return (
    <Sheet
      title="Weighing sheet"
      of={`${brief.name}, ${of}`}
      says="Write what the balance shows, not what it should show: what was weighed counts."
    >
      <p class="paper-fields">
        <WriteIn what="weighed by" /> <WriteIn what="date" /> <WriteIn what="balance" />
      </p>
      {bottles.map((bottle) => (
        <Bottle key={bottle.blend} bottle={bottle} places={decimals(brief.batch.readability)} />
      ))}
      {cautions.length > 0 && (
        <section class="whole-block">
          <h2>Mind</h2>
          <ul class="small">
            {cautions.map(({ text }) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </section>
      )}
    </Sheet>
  );
}

function Bottle({ bottle, places }: { bottle: PaperBottle; places: number }) {
  let total = 0;
  return (
    <section class="whole-block">
      <h2>
        Bottle {bottle.blend}
        {bottle.mixes.length > 1 && <span class="small"> serves {bottle.mixes.join(', ')}</span>}
      </h2>
      <table class="lines">
        <thead>
          <tr>
            {['component', 'grams', 'total', 'balance showed', 'lot'].map((head) => (
              <th scope="col" key={head}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {bottle.lines.map(({ id, name, planned }) => {
            total += planned;
            return (
              <tr key={id}>
                <th scope="row">{name}</th>
                <td>{planned.toFixed(places)}</td>
                <td>{total.toFixed(places)}</td>
                <td class="blank" />
                <td class="blank" />
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}
