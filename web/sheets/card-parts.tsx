import { doseLadder } from '../../engine/bench/dose-ladder.ts';
import type { Card } from '../../trials/schema/card.ts';
import { inCurrency } from '../../trials/schema/money.ts';
import type { CardNames } from './card-names.ts';
import { figure, score } from './figures.ts';

interface PartProps {
  card: Card;
  names: CardNames;
}

/** Line by line: parts of a hundred and the masses of each batch. */
export function CardShares({ card, names, places }: PartProps & { places: number }) {
  const batch = Object.values(card.grams).reduce((sum, grams) => sum + grams, 0);
  const { carrier, fillMillilitres } = card.concentrate;
  const carried = carrier === null ? undefined : card.formula.lines.find((line) => line.material === carrier);
  return (
    <table class="lines whole-block">
      <thead>
        <tr>
          <th scope="col">component</th>
          <th scope="col">parts of 100 by mass</th>
          {card.sizes.map((size) => (
            <th scope="col" key={size}>
              {figure(size, 6)} g of mix
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {names.components
          .filter(({ id }) => (card.grams[id] ?? 0) > 0)
          .map(({ id, name }) => (
            <tr key={id}>
              <th scope="row">{name || id}</th>
              <td>{(100 * (card.ratios[id] ?? 0)).toFixed(2)}</td>
              {card.sizes.map((size) => (
                <td key={size}>{((card.grams[id]! * size) / batch).toFixed(places)}</td>
              ))}
            </tr>
          ))}
        {carrier !== null && fillMillilitres !== null && (
          <tr>
            <th scope="row">made up with {carrier}</th>
            <td />
            {card.sizes.map((size) => (
              <td key={size}>
                to {figure((fillMillilitres * size) / batch, 4)} mL
                {carried && ` (${figure((carried.grams * size) / batch, 4)} g)`}
              </td>
            ))}
          </tr>
        )}
      </tbody>
    </table>
  );
}

/** Dose ladder, strength and cost. */
export function CardFigures({ card, names }: PartProps) {
  const { concentrate, drink, cost } = card;
  const { carrier, percentVol, density, because } = concentrate;
  // Without what the mix is made up with, its own strength is no concentrate's.
  const known = carrier !== null && percentVol !== null;
  const settings = names.settings
    .filter(({ id }) => card.settings[id] !== undefined)
    .map(({ id, name, unit }) => `${name || id} ${figure(card.settings[id]!)} ${unit}`.trim());
  const rows = drink === null ? [] : doseLadder(drink.dosePerLitre, density, drink.cupMillilitres);
  return (
    <section class="whole-block">
      <h2>Dose and strength</h2>
      {drink !== null && (
        <table class="lines">
          <tbody>
            {rows.map(({ into, millilitres, grams }) => (
              <tr key={into}>
                <th scope="row">{into}</th>
                <td>
                  {figure(millilitres)} mL{grams === null ? '' : `, ${figure(grams)} g`}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p class="small">
        {drink !== null && `Of concentrate, into ${drink.name}. `}
        {settings.length > 0 && `${settings.join('; ')}. `}
        Concentrate: {known && `${figure(percentVol)} % alcohol by volume`}
        {known && because !== '' ? ', ' : ''}
        {because}
        {density === null ? '' : `, ${figure(density, 4)} g/mL at 20 °C`}.{' '}
        {drink !== null && `Drink: ${figure(drink.percentVol)} % by volume. `}
        Cost:{' '}
        {cost.perBatch === null ? '' : `${inCurrency(figure(cost.perBatch), card.formula.currency)} a batch`}
        {cost.perLitreOfDrink === null ? '' : `, ${figure(cost.perLitreOfDrink)} a litre of drink`}
        {cost.perBatch === null ? cost.because : ` (${cost.because})`}.
      </p>
    </section>
  );
}

/** How this panel should score it. */
export function CardTaste({ card, names }: PartProps) {
  const known = names.attributes.filter(({ id }) => card.predicted[id] !== undefined);
  if (known.length === 0) return null;
  return (
    <section class="whole-block">
      <h2>How this panel should score it</h2>
      <table class="lines">
        <tbody>
          {known.map(({ id, name, scale }) => (
            <tr key={id}>
              <th scope="row">
                {name || id}, {scale.join(' to ')}
              </th>
              <td>
                {score(card.predicted[id]!.mean, scale)} (
                {card.predicted[id]!.interval.map((end) => score(end, scale)).join(' to ')})
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** `EU, not verified`, or that the figure is the maker's own, and for which drinks. */
function whoseRule({
  own,
  only,
  jurisdiction,
  verified,
}: Pick<Card['substances'][number]['limits'][number], 'own' | 'only' | 'jurisdiction' | 'verified'>): string {
  if (!own) return `${jurisdiction.slice(0, 2)}${verified ? '' : ', not verified'}`;
  return [jurisdiction === 'own' ? null : jurisdiction, 'own figure', only]
    .filter((part) => part !== null)
    .join(', ');
}

/** Limits as they stand in the drink at this dose, and what could not be held against any. */
export function CardLimits({ card }: { card: Card }) {
  const judged = card.substances.flatMap(({ substance, mgPerKg, limits }) =>
    limits.map((limit) => ({ substance, mgPerKg, ...limit })),
  );
  const over = judged.filter(({ exceeded }) => exceeded === true);
  const kept = judged.filter(({ exceeded }) => exceeded === false);
  const open = judged.filter(({ exceeded }) => exceeded === null);
  const said = ({ substance, mgPerKg, limit, unit, kind, ...rule }: (typeof judged)[number]) =>
    `${substance}${mgPerKg === null || unit === '% vol' ? '' : ` ${figure(mgPerKg)} mg/kg`} (${
      kind.startsWith('banned') || limit === null ? kind : `${kind} ${limit} ${unit}`
    }, ${whoseRule(rule)})`;
  return (
    <section class="whole-block">
      <h2>Limits in the drink</h2>
      {over.length > 0 && (
        <p>
          <strong>Exceeded:</strong> {over.map(said).join('; ')}.
        </p>
      )}
      <p class="small">
        {kept.length > 0 && `Kept: ${kept.map(said).join('; ')}. `}
        {open.length > 0 && `For you to judge: ${open.map(said).join('; ')}. `}
        {judged.length === 0 && 'No limit on file speaks of what is known to be in it. '}
        {judged.some(({ own }) => own) && 'Own figures are the maker’s: check the law where you sell. '}
        {card.unchecked.length > 0 && (
          <>
            <strong>Not checked:</strong>{' '}
            {card.unchecked.map(({ material, because }) => `${material} (${because})`).join('; ')}.
          </>
        )}
      </p>
    </section>
  );
}
