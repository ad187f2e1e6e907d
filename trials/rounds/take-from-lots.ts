import type { LotView } from '../schema/shelf-shapes.ts';
import type { LotMove } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import type { Context } from './context.ts';
import { moveOf } from './keep-lots.ts';
import { badInput, conflict } from './refusal.ts';
import { findLot, tidy } from './shelf-view.ts';

interface Weighed {
  trial: string;
  round: number;
  blend: string;
  at: string;
  grams: Readonly<Record<string, number>>;
  /** Bottle of the shelf for each component; left out, those that the bottle's last weighing took from. */
  lots: Readonly<Record<string, string>> | undefined;
}

/**
 * Takes what a mix was weighed from off the shelf's bottles. Where the mix was weighed before, what that took is put
 * back first, so that a corrected weighing leaves the shelf as if it had been right at once.
 *
 * @throws Refusal `conflict` where a bottle holds less than was weighed: nothing is changed
 */
export function takeFromLots(context: Context, weighed: Weighed): void {
  const { shelf } = context.store;
  const { trial, round, blend, at, grams } = weighed;
  const standing = standingMoves(shelf.movesOfTrial(trial).filter((move) => move.blend === blend));
  const before = standing.filter(({ part }) => Object.hasOwn(grams, part!));
  const lots = weighed.lots ?? Object.fromEntries(before.map(({ part, lot }) => [part!, lot]));
  const about = { trial, round, blend, at };
  for (const { lot, part, grams: taken } of standing)
    shelf.addMove(moveOf({ ...about, lot, part, grams: -taken, kind: 'put back' }));
  for (const [part, lot] of Object.entries(lots)) {
    const mass = Object.hasOwn(grams, part) ? grams[part]! : undefined;
    if (mass === undefined) throw badInput(`lots.${part}`, lot, 'a component that was weighed');
    const found = findLot(context, lot);
    refuseShortage(found, mass);
    if (mass > 0) shelf.addMove(moveOf({ ...about, lot, part, grams: -mass, kind: 'weighed' }));
  }
}

/** What the weighing that counts took of each bottle: moves of one mix less what was put back. */
function standingMoves(moves: readonly LotMove[]): LotMove[] {
  const net = new Map<string, LotMove>();
  for (const move of moves) {
    const key = `${move.part}\n${move.lot}`;
    const grams = tidy((net.get(key)?.grams ?? 0) + move.grams);
    net.set(key, { ...move, grams });
  }
  return [...net.values()].filter(({ grams }) => grams !== 0);
}

/** Bottles of the shelf that each blend of a trial was weighed from, by component. */
export function lotsByBlend(store: Store, trial: string): Map<string, Record<string, string>> {
  const moves = new Map<string, LotMove[]>();
  for (const move of store.shelf.movesOfTrial(trial))
    moves.set(move.blend!, [...(moves.get(move.blend!) ?? []), move]);
  return new Map(
    [...moves].map(([blend, own]) => [
      blend,
      Object.fromEntries(standingMoves(own).map(({ part, lot }) => [part!, lot])),
    ]),
  );
}

/** Refuses to take more than a bottle holds, and says what settles it. */
export function refuseShortage({ lot, label, grams }: LotView, wanted: number): void {
  if (wanted <= grams + 1e-9) return;
  throw conflict(
    `bottle ${label} (${lot}) holds ${grams} g by its account, and ${tidy(wanted)} g are taken: count it anew on the shelf, or name another bottle or none`,
  );
}
