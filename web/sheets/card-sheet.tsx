import type { Card } from '../../trials/schema/card.ts';
import { type CardDifference, differencesOf } from './card-differences.ts';
import type { CardNames } from './card-names.ts';
import { CardFigures, CardLimits, CardShares, CardTaste } from './card-parts.tsx';
import { figure } from './figures.ts';
import { Sheet } from './sheet.tsx';

interface CardProps {
  card: Card;
  /** The version before, where there is one. */
  before: Card | null;
  /** Decimals that show one step of the balance. */
  places: number;
  /** Names of components, settings and attributes, with their units and scales. */
  names: CardNames;
  /** A square code that opens this card; none on a draft. */
  qr: string | null;
}

/** The formula on one page: shares and batches, dose, strength, cost, limits, cautions, evidence, version. */
export function CardSheet({ card, before, places, names, qr }: CardProps) {
  const title = `${card.name}`;
  const of = `Formula card, version ${card.version}, ${card.at.slice(0, 10)}${qr === null ? ', a draft' : ''}`;
  return (
    <Sheet title={title} of={of} class="card" {...(card.note === '' ? {} : { says: card.note })}>
      {qr !== null && (
        <img
          class="card-code"
          alt="Code that opens this card"
          src={`data:image/svg+xml,${encodeURIComponent(qr)}`}
        />
      )}
      <CardShares card={card} names={names} places={places} />
      <div class="card-columns">
        <CardFigures card={card} names={names} />
        <CardTaste card={card} names={names} />
      </div>
      <CardLimits card={card} />
      <Mind card={card} />
      <Evidence
        card={card}
        changes={before === null ? null : differencesOf(before, card, names)}
        before={before}
      />
      <p class="small">
        Keep the concentrate dark, cool, full and closed.{' '}
        {card.ageing.length > 0 &&
          `Taste it again ${card.ageing.map(({ weeks, due }) => `after ${weeks} ${weeks === 1 ? 'week' : 'weeks'} (${due})`).join(', ')}. `}
        No legal verdict: local law and a qualified person’s review come before sale.
      </p>
    </Sheet>
  );
}

/** Cautions by kind, handling last and small: what touches who drinks it comes first. */
function Mind({ card }: { card: Card }) {
  const first = card.cautions.filter(({ about }) => about === 'label' || about === 'fire');
  const rest = card.cautions.filter((one) => !first.includes(one));
  if (card.cautions.length === 0) return null;
  return (
    <section class="cautions whole-block">
      <h2>Mind</h2>
      <ul class="small">
        {first.map(({ text }) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
      {rest.length > 0 && <p class="finest">{rest.map(({ text }) => text).join(' ')}</p>}
    </section>
  );
}

interface EvidenceProps {
  card: Card;
  before: Card | null;
  changes: readonly CardDifference[] | null;
}

function Evidence({ card, before, changes }: EvidenceProps) {
  const { rounds, sittings, tasters, answers, proofs } = card.evidence;
  const chance = card.chance === null ? 'not known' : inHundred(card.chance);
  return (
    <section class="whole-block">
      <h2>What speaks for it</h2>
      <p class="small">
        {counted(rounds, 'round')}, {counted(sittings, 'sitting')}, {counted(tasters, 'taster')},{' '}
        {counted(answers, 'answer')}. Chance that it matches: {chance}
        {card.distance === null ? '' : `; predicted ${figure(card.distance, 2)} points of 100 off`}.{' '}
        {proofs.length === 0 ? 'Predicted, not proved blind.' : `Blind proof. ${proofs.join(' ')}`}
      </p>
      {changes !== null && before !== null && (
        <p class="small">
          Against version {before.version}:{' '}
          {changes.length === 0
            ? 'nothing differs.'
            : `${changes.map(({ what, was, is }) => `${what} ${was} → ${is}`).join('; ')}.`}
        </p>
      )}
    </section>
  );
}

function inHundred(chance: number): string {
  if (chance < 0.005) return 'fewer than 1 in 100';
  return chance >= 0.995 ? 'more than 99 in 100' : `about ${Math.round(100 * chance)} in 100`;
}

function counted(number: number, one: string): string {
  return `${number} ${number === 1 ? one : `${one}s`}`;
}
