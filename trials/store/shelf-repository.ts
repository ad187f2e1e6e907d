import type Database from 'better-sqlite3';
import type { OwnLimit } from '../schema/shelf-shapes.ts';
import type { ShelfMaterial } from '../shelf/shelf-schema.ts';
import type { LimitRecord, LotEntry, LotMove, LotRecord } from './records.ts';

interface LotRow extends Omit<LotRecord, 'entry'> {
  entry: string;
}

interface LimitRow extends Omit<LimitRecord, 'entry'> {
  entry: string;
}

/** The maker's own materials and limits, the bottles on the shelf, and every gram in and out of them. */
export function shelfRepository(db: Database.Database) {
  const keepMaterial = db.prepare(
    'INSERT INTO materials (material, at, entry) VALUES (?, ?, ?) ON CONFLICT (material) DO UPDATE SET at = excluded.at, entry = excluded.entry',
  );
  const materials = db.prepare<[], { entry: string }>('SELECT entry FROM materials ORDER BY material');
  const addLimit = db.prepare('INSERT INTO own_limits (at, entry) VALUES (?, ?)');
  const changeLimit = db.prepare('UPDATE own_limits SET at = ?, entry = ?, away = ? WHERE id = ?');
  const limits = db.prepare<[], LimitRow>('SELECT id, entry, away FROM own_limits ORDER BY id');
  const addLot = db.prepare('INSERT INTO lots (lot, material, made, entry) VALUES (?, ?, ?, ?)');
  const changeLot = db.prepare('UPDATE lots SET entry = ? WHERE lot = ?');
  const lots = db.prepare<[], LotRow>('SELECT lot, material, made, entry FROM lots ORDER BY rowid');
  const columns = 'lot, at, grams, kind, trial, round, blend, part, stock, note';
  const addMove = db.prepare(`INSERT INTO lot_moves (${columns}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`);
  const ofLot = db.prepare<[string], LotMove>(`SELECT ${columns} FROM lot_moves WHERE lot = ? ORDER BY id`);
  const ofTrial = db.prepare<[string], LotMove>(
    `SELECT ${columns} FROM lot_moves WHERE trial = ? ORDER BY id`,
  );
  const onHand = db.prepare<[], { lot: string; grams: number }>(
    'SELECT lot, sum(grams) AS grams FROM lot_moves GROUP BY lot',
  );
  return {
    /** Keeps one of the maker's own materials, in place of an earlier entry of the same id. */
    keepMaterial: (at: string, material: ShelfMaterial): void => {
      keepMaterial.run(material.id, at, JSON.stringify(material));
    },
    materials: (): ShelfMaterial[] => materials.all().map(({ entry }) => JSON.parse(entry) as ShelfMaterial),
    /** Keeps a limit of the maker's own; returns its number. */
    addLimit: (at: string, entry: OwnLimit): number =>
      Number(addLimit.run(at, JSON.stringify(entry)).lastInsertRowid),
    changeLimit: (id: number, at: string, entry: OwnLimit, away: string | null): void => {
      changeLimit.run(at, JSON.stringify(entry), away, id);
    },
    /** The maker's own limits, those taken away among them. */
    limits: (): LimitRecord[] =>
      limits.all().map((row) => ({ ...row, entry: JSON.parse(row.entry) as OwnLimit })),
    addLot: ({ lot, material, made, entry }: LotRecord): void => {
      addLot.run(lot, material, made, JSON.stringify(entry));
    },
    changeLot: (lot: string, entry: LotEntry): void => {
      changeLot.run(JSON.stringify(entry), lot);
    },
    lots: (): LotRecord[] => lots.all().map((row) => ({ ...row, entry: JSON.parse(row.entry) as LotEntry })),
    addMove: (m: LotMove): void => {
      addMove.run(m.lot, m.at, m.grams, m.kind, m.trial, m.round, m.blend, m.part, m.stock, m.note);
    },
    /** Every move of a bottle, oldest first. */
    movesOfLot: (lot: string): LotMove[] => ofLot.all(lot),
    movesOfTrial: (trial: string): LotMove[] => ofTrial.all(trial),
    /** Grams left in each bottle. */
    onHand: (): Map<string, number> => new Map(onHand.all().map(({ lot, grams }) => [lot, grams])),
  };
}
