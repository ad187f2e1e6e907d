import type { Brief } from '../../trials/schema/brief.ts';
import { decimals, figure } from './figures.ts';
import { Sheet } from './sheet.tsx';

/** What the card says of the formula; figures as the reading gives them. */
export interface CardFormula {
  ratios: Readonly<Record<string, number>>;
  grams: Readonly<Record<string, number>>;
  settings: Readonly<Record<string, number>>;
  predicted: Readonly<Record<string, { mean: number; interval: readonly [number, number] }>>;
  /** Chance of a match, 0 to 1; null where it cannot be told. */
  chance: number | null;
  distance: number | null;
}

interface CardProps {
  brief: Brief;
  card: CardFormula;
  /** What it rests on, in words. */
  evidence: string;
}

/** The formula on one page: shares, three sizes, how it should taste, what to mind. */
export function CardSheet({ brief, card, evidence }: CardProps) {
  const cautions = brief.cautions.filter(({ to }) => to === 'label');
  return (
    <Sheet title={brief.name} of="Formula card" says={evidence}>
      <Shares brief={brief} card={card} />
      {brief.settings.length > 0 && (
        <p>
          {brief.settings
            .filter(({ id }) => card.settings[id] !== undefined)
            .map(({ id, name, unit = '' }) => `${name || id}: ${figure(card.settings[id]!)} ${unit}`.trim())
            .join('; ')}
          .
        </p>
      )}
      {brief.concentrate && (
        <p>
          {figure(brief.batch.grams)} g of the mix, filled to {figure(brief.concentrate.fillMillilitres)} mL
          with {brief.concentrate.carrier}: about {figure(brief.concentrate.percentVol)} % alcohol by volume.
          Highly flammable; never tasted as it is.
        </p>
      )}
      <Taste brief={brief} card={card} />
      {cautions.length > 0 && (
        <section class="cautions whole-block">
          <h2>Mind</h2>
          <ul>
            {cautions.map(({ text }) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </section>
      )}
      <p class="small">
        Keep dark, cool, full and closed. Local law and a qualified person’s review come before sale.
      </p>
    </Sheet>
  );
}

const TIMES = [1, 10, 100];

function Shares({ brief, card }: Omit<CardProps, 'evidence'>) {
  const places = decimals(brief.batch.readability);
  return (
    <table class="lines whole-block">
      <thead>
        <tr>
          <th scope="col">component</th>
          <th scope="col">parts of 100 by mass</th>
          {TIMES.map((times) => (
            <th scope="col" key={times}>
              for {figure(brief.batch.grams * times)} g
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {brief.components.map(({ id, name }) => (
          <tr key={id}>
            <th scope="row">{name || id}</th>
            <td>{(100 * (card.ratios[id] ?? 0)).toFixed(1)}</td>
            {TIMES.map((times) => (
              <td key={times}>{((card.grams[id] ?? 0) * times).toFixed(places)}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Taste({ brief, card }: Omit<CardProps, 'evidence'>) {
  const known = brief.attributes.filter(({ id }) => card.predicted[id] !== undefined);
  if (known.length === 0) return null;
  const says =
    card.chance === null ? '' : ` Chance of a match: about ${Math.round(100 * card.chance)} in 100.`;
  return (
    <section class="whole-block">
      <h2>How this panel should score it</h2>
      <table class="lines">
        <thead>
          <tr>
            {['attribute', 'scale', 'score', '95 % interval'].map((head) => (
              <th scope="col" key={head}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {known.map(({ id, name, scale }) => (
            <tr key={id}>
              <th scope="row">{name || id}</th>
              <td>{scale.join(' to ')}</td>
              <td>{figure(card.predicted[id]!.mean)}</td>
              <td>{card.predicted[id]!.interval.map((end) => figure(end)).join(' to ')}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small">Predicted from tastings, not proved blind unless the text above says so.{says}</p>
    </section>
  );
}
