import type { RoundView, TrialView } from '../../../trials/schema/api.ts';
import { keep, kept } from '../kept.ts';
import { outbox, type Parcel, parcelOf, post } from './outbox.ts';
import { beginPours, nextPour, type Pours } from './pours.ts';
import { lotsFor, lotsOf } from './taken-from.tsx';
import type { Bottle } from './weighing.ts';

type Lots = Readonly<Record<string, string>>;

const keyOf = (trial: TrialView, round: RoundView, { blend }: Bottle) =>
  `pours:${trial.trial}:${round.round}:${blend}`;

/** How far a bottle is poured on this computer, else as it was weighed. */
export function poursOf(trial: TrialView, round: RoundView, bottle: Bottle): Pours {
  return kept<Pours>(keyOf(trial, round, bottle)) ?? beginPours(bottle.weighed);
}

/** Keeps how far a bottle is poured on this computer. */
export function keepPours(trial: TrialView, round: RoundView, bottle: Bottle, pours: Pours): void {
  keep(keyOf(trial, round, bottle), pours);
}

/** The next bottle that is to be poured: not weighed, and not whole here either. */
export function nextBottle(trial: TrialView, round: RoundView, here: Bottle, bottles: readonly Bottle[]) {
  return bottles.find(
    (other) => other.blend !== here.blend && other.weighed === null && !isWholeHere(trial, round, other),
  );
}

/** What is on its way of a bottle. */
export function parcelFor(trial: TrialView, round: RoundView, bottle: Bottle): Parcel | undefined {
  return parcelOf(placeOf(trial, round, bottle));
}

/** Sends a bottle that is whole; what this computer keeps of it is forgotten once that has arrived. */
export function sendWhole(
  trial: TrialView,
  round: RoundView,
  bottle: Bottle,
  { pours, lots }: { pours: Pours; lots: Lots },
): void {
  const key = keyOf(trial, round, bottle);
  const sent = JSON.stringify(pours);
  post({
    ...placeOf(trial, round, bottle),
    mix: bottle.mixes[0]!,
    body: { grams: { ...pours.noted }, note: bottle.note, lots: { ...lots } },
    arrived: () => {
      if (JSON.stringify(kept(key)) === sent) keep(key, null);
    },
  });
}

/** Sends what is whole here and never arrived: the page was closed, or the workbench was gone. Sent twice it changes nothing. */
export function sendThoseLeft(trial: TrialView, round: RoundView, bottles: readonly Bottle[]): void {
  for (const bottle of bottles) {
    if (bottle.weighed !== null || !isWholeHere(trial, round, bottle)) continue;
    if (parcelFor(trial, round, bottle)) continue;
    const pours = poursOf(trial, round, bottle);
    sendWhole(trial, round, bottle, { pours, lots: lotsOf(bottle, lotsFor(trial, bottle), null) });
  }
}

/** Bottles of a round that were sent and did not arrive. */
export function stuckIn(trial: TrialView, round: RoundView) {
  return outbox.value.filter(
    (one) => one.trial === trial.trial && one.round === round.round && one.trouble !== null,
  );
}

function placeOf(trial: TrialView, round: RoundView, { blend }: Bottle) {
  return { trial: trial.trial, round: round.round, blend };
}

function isWholeHere(trial: TrialView, round: RoundView, bottle: Bottle): boolean {
  return bottle.lines.length > 0 && nextPour(bottle, poursOf(trial, round, bottle)) === null;
}
