import type { z } from 'zod';
import type {
  LotAccount,
  LotChange,
  LotCount,
  MoveView,
  NewLot,
  OwnMaterial,
} from '../schema/shelf-shapes.ts';
import { asShelfMaterial } from '../shelf/own-material.ts';
import type { ShelfMaterial } from '../shelf/shelf-schema.ts';
import type { LotMove } from '../store/records.ts';
import { type Context, timeOf } from './context.ts';
import { badInput } from './refusal.ts';
import { findLot, shelfIn, shelfView, tidy } from './shelf-view.ts';

type Account = z.infer<typeof LotAccount>;

/** Keeps the maker's own entry for a material: it goes before the starter shelf's of the same id. */
export function keepMaterial(context: Context, id: string, own: OwnMaterial) {
  if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(id))
    throw badInput('material', id, 'small letters, digits and single hyphens');
  context.store.write(() => {
    context.store.shelf.keepMaterial(timeOf(context), asShelfMaterial(id, own));
    noteAct(context, 'kept a material', id);
  });
  return shelfView(context);
}

/** A bottle that came to the shelf. @throws Refusal `bad-input` for a material that is not on it */
export function addLot(context: Context, sent: NewLot): Account {
  const { grams, ...entry } = sent;
  const material = materialOf(context, 'material', sent.material);
  const solvent = sent.solvent === null ? null : materialOf(context, 'solvent', sent.solvent).id;
  if (sent.strength === 100 && solvent !== null)
    throw badInput('solvent', sent.solvent, 'nothing, or a strength below 100 %');
  if (solvent === material.id)
    throw badInput('solvent', sent.solvent, 'a solvent other than what is dissolved in it');
  return context.store.write(() => {
    const at = timeOf(context);
    const lot = nextLot(context);
    const { material: _, ...kept } = entry;
    const record = { ...kept, solvent, parts: [] };
    context.store.shelf.addLot({ lot, material: material.id, made: at, entry: record });
    context.store.shelf.addMove(moveOf({ lot, at, grams, kind: 'came' }));
    noteAct(context, 'took in a bottle', `${lot}: ${grams} g of ${material.id}`);
    return account(context, lot);
  });
}

/** Puts dates, price, density or label of a bottle right. */
export function changeLot(context: Context, lot: string, change: z.infer<typeof LotChange>): Account {
  return context.store.write(() => {
    findLot(context, lot);
    const { entry } = context.store.shelf.lots().find((one) => one.lot === lot)!;
    const given = Object.fromEntries(Object.entries(change).filter(([, value]) => value !== undefined));
    context.store.shelf.changeLot(lot, { ...entry, ...given });
    noteAct(context, 'changed a bottle', `${lot}: ${Object.keys(given).join(', ')}`);
    return account(context, lot);
  });
}

/** Counts a bottle anew: the difference goes on its account, with a reason. */
export function countLot(context: Context, lot: string, { grams, why }: z.infer<typeof LotCount>): Account {
  return context.store.write(() => {
    const difference = tidy(grams - findLot(context, lot).grams);
    const at = timeOf(context);
    context.store.shelf.addMove(moveOf({ lot, at, grams: difference, kind: 'counted', note: why }));
    noteAct(context, 'counted a bottle', `${lot}: ${grams} g, ${why}`);
    return account(context, lot);
  });
}

/** One bottle and every gram in and out of it. */
export function account(context: Context, lot: string): Account {
  const view = findLot(context, lot);
  const labels = new Map(context.store.shelf.lots().map((one) => [one.lot, one.entry.label]));
  const names = new Map(context.store.trials.list().map(({ trial, name }) => [trial, name]));
  let left = 0;
  const moves = context.store.shelf.movesOfLot(lot).map((move): z.infer<typeof MoveView> => {
    left = tidy(left + move.grams);
    const { at, grams, trial, round } = move;
    return { at, grams, says: sayMove(move, labels, names), trial, round, left };
  });
  return { lot: view, moves };
}

function sayMove(
  { kind, blend, part, stock, note, trial }: LotMove,
  labels: ReadonlyMap<string, string>,
  names: ReadonlyMap<string, string>,
): string {
  const of = trial === null ? '' : ` of ${names.get(trial) ?? trial}`;
  switch (kind) {
    case 'came':
      return 'came to the shelf';
    case 'made':
      return 'made';
    case 'into stock':
      return `into stock ${labels.get(stock ?? '') ?? stock}`;
    case 'weighed':
      return `into bottle ${blend}${of} as ${part}`;
    case 'put back':
      return `bottle ${blend}${of} was weighed anew: put back`;
    case 'counted':
      return `counted: ${note}`;
  }
}

/** A material of the shelf by id or name. @throws Refusal `bad-input` naming the field */
export function materialOf(context: Context, where: string, idOrName: string): ShelfMaterial {
  const found = shelfIn(context.store).find(idOrName);
  if (found) return found;
  throw badInput(where, idOrName, 'a material on the shelf: enter it first, from its supplier’s sheet');
}

/** A move with all that it does not say left empty. */
export function moveOf(move: Pick<LotMove, 'lot' | 'at' | 'grams' | 'kind'> & Partial<LotMove>): LotMove {
  return { trial: null, round: null, blend: null, part: null, stock: null, note: '', ...move };
}

/** The next free name of a bottle. */
export function nextLot({ store }: Context): string {
  return `b${store.shelf.lots().length + 1}`;
}

/** Acts of the shelf belong to no trial. */
export function noteAct(context: Context, act: string, detail: string): void {
  context.store.acts.add(null, { at: timeOf(context), who: context.who, act, detail });
}
