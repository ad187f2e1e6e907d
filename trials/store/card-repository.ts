import type Database from 'better-sqlite3';
import type { Card } from '../schema/card.ts';

interface CardRow {
  card: string;
}

/** Cards as they were published; none is ever changed. */
export function cardRepository(db: Database.Database) {
  const add = db.prepare('INSERT INTO cards (trial, version, at, reading, card) VALUES (?, ?, ?, ?, ?)');
  const list = db.prepare<[string], CardRow>('SELECT card FROM cards WHERE trial = ? ORDER BY version');
  return {
    add: (trial: string, reading: string, card: Card): void => {
      add.run(trial, card.version, card.at, reading, JSON.stringify(card));
    },
    /** Every version, oldest first. */
    list: (trial: string): Card[] => list.all(trial).map(({ card }) => JSON.parse(card) as Card),
  };
}
