import type { Card } from '../../trials/schema/card.ts';
import type { CardNames } from './card-names.ts';
import { figure } from './figures.ts';

/** One thing in which two versions of a card differ, as they print it. */
export interface CardDifference {
  what: string;
  was: string;
  is: string;
}

/** Everything that two versions print differently: shares, settings, strength, cost, and how they should taste. */
export function differencesOf(was: Card, is: Card, names: CardNames): CardDifference[] {
  return compareCards(was, is, names).filter((row) => row.was !== row.is);
}

/** Two versions line by line, in formula and in predicted flavour. */
export function compareCards(was: Card, is: Card, names: CardNames): CardDifference[] {
  const row = (what: string, read: (card: Card) => string | null) => ({
    what,
    was: read(was) ?? 'not known',
    is: read(is) ?? 'not known',
  });
  const number = (value: number | null | undefined, digits = 3) =>
    value === null || value === undefined ? null : figure(value, digits);
  return [
    ...names.components.map(({ id, name }) =>
      row(name || id, (card) => (100 * (card.ratios[id] ?? 0)).toFixed(2)),
    ),
    ...names.settings.map(({ id, name }) => row(name || id, (card) => number(card.settings[id]))),
    row('concentrate, % by volume', (card) => number(card.concentrate.percentVol)),
    row('cost a litre of drink', (card) => number(card.cost.perLitreOfDrink)),
    ...names.attributes.map(({ id, name }) => row(name || id, (card) => number(card.predicted[id]?.mean))),
    row('chance of a match, in 100', (card) =>
      card.chance === null ? null : String(Math.round(100 * card.chance)),
    ),
  ];
}
