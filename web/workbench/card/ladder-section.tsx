import { useState } from 'preact/hooks';
import { doseLadder, syrupDose } from '../../../engine/bench/dose-ladder.ts';
import { fallingOut, type JudgedLink } from '../../../engine/bench/falling-out.ts';
import type { Card } from '../../../trials/schema/api.ts';
import { figure, readNumber } from '../numbers.ts';
import { Field } from '../parts/field.tsx';
import { Care } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';

/** The dose at every size it is met in: cup, litre, the syrup a bar makes, drops. */
export function LadderSection({ card }: { card: Card }) {
  const [syrup, setSyrup] = useState('30');
  const [glass, setGlass] = useState('180');
  const [drop, setDrop] = useState('');
  if (card.drink === null) return null;
  const { dosePerLitre, cupMillilitres } = card.drink;
  const { density } = card.concentrate;
  const inSyrup = syrupOf(dosePerLitre, readNumber(syrup), readNumber(glass));
  const rows = [
    ...doseLadder(dosePerLitre, density, cupMillilitres),
    ...(inSyrup === null
      ? []
      : [
          {
            into: 'a litre of syrup',
            millilitres: inSyrup,
            grams: density === null ? null : inSyrup * density,
          },
        ]),
  ];
  const syrupLink = inSyrup === null ? null : syrupOfChain(card, inSyrup);
  const inGlass = density === null ? null : ((readNumber(glass) ?? 0) * dosePerLitre * density) / 1000;
  const dropGrams = (readNumber(drop) ?? 0) / 1000;
  return (
    <section>
      <h2>How much of it</h2>
      <div class="fields">
        <Field label="Syrup in a drink" unit="mL" number value={syrup} change={setSyrup} />
        <Field label="The drink" unit="mL" number value={glass} change={setGlass} />
        <Field
          label="A drop weighs"
          unit="mg"
          number
          value={drop}
          change={setDrop}
          help="of your bottle: weigh twenty"
        />
      </div>
      <Table
        caption="Concentrate into each"
        quietCaption
        rows={rows}
        columns={[
          { head: 'Into', cell: ({ into }) => into },
          { head: 'mL', number: true, cell: ({ millilitres }) => figure(millilitres) },
          { head: 'g', number: true, cell: ({ grams }) => figure(grams) },
        ]}
      />
      {syrupLink !== null && syrupLink.clearness !== 'clear' && <Care>{syrupLink.says}</Care>}
      {inSyrup === null && <p class="soft">A syrup needs less of itself than there is drink.</p>}
      {inGlass !== null && dropGrams > 0 && (
        <p>About {figure(inGlass / dropGrams, 2)} drops of that bottle to such a drink.</p>
      )}
    </section>
  );
}

function syrupOf(dose: number, syrup: number | null, drink: number | null): number | null {
  if (syrup === null || drink === null || !(syrup > 0) || syrup > drink) return null;
  return (dose * drink) / syrup > 1000 ? null : syrupDose(dose, syrup, drink);
}

/** The syrup as a link of the chain; a litre is taken to weigh no more than a kilogram, so that it holds the most. */
function syrupOfChain({ chain, concentrate: { density } }: Card, millilitres: number): JudgedLink | null {
  const above = chain?.find(({ place }) => place === 'The concentrate');
  if (above === undefined || above.percentVol === null || above.mgPerKg === null || density === null)
    return null;
  const mgPerKg = (above.mgPerKg * millilitres * density) / 1000;
  const percentVol = (above.percentVol * millilitres) / 1000;
  const holds = mgPerKg > 0 ? [{ name: 'as in the concentrate', mgPerKg, clearIn: null }] : [];
  return fallingOut([{ place: 'A litre of syrup', percentVol, holds }])[0]!;
}
