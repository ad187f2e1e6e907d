import type Database from 'better-sqlite3';
import type { CupRecord, Question, Rests, SeatKey, SeatRecord, SittingRecord } from './records.ts';

interface SittingRow {
  sitting: string;
  round: number;
  label: string;
  state: SittingRecord['state'];
  key: SittingRecord['key'];
  seed: number;
  questions: string;
  rests: string;
  drawn: string;
  opened: string | null;
  closed: string | null;
  key_opened: string | null;
  key_why: string | null;
}

interface SeatRow {
  assessor: string;
  place: number;
  knowing: number;
  position: number;
  heard: string | null;
}

const SITTING_COLUMNS =
  'sitting, round, label, state, key, seed, questions, rests, drawn, opened, closed, key_opened, key_why';

/** Sittings with their seats and cups. Of a taster's token only the SHA-256 is ever stored. */
export function sittingRepository(db: Database.Database) {
  const addSitting = db.prepare(
    `INSERT INTO sittings (trial, ${SITTING_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const list = db.prepare<[string], SittingRow>(
    `SELECT ${SITTING_COLUMNS} FROM sittings WHERE trial = ? ORDER BY round, rowid`,
  );
  const find = db.prepare<[string, string], SittingRow>(
    `SELECT ${SITTING_COLUMNS} FROM sittings WHERE trial = ? AND sitting = ?`,
  );
  const update = db.prepare(
    `UPDATE sittings SET state = ?, key = ?, opened = ?, closed = ?, key_opened = ?, key_why = ?
     WHERE trial = ? AND sitting = ?`,
  );
  return {
    add: (trial: string, s: SittingRecord): void => {
      const questions = JSON.stringify(s.questions);
      const rests = JSON.stringify(s.rests);
      addSitting.run(
        ...[trial, s.sitting, s.round, s.label, s.state, s.key, s.seed, questions, rests, s.drawn],
        ...[s.opened, s.closed, s.keyOpened, s.keyWhy],
      );
    },
    list: (trial: string): SittingRecord[] => list.all(trial).map(toSitting),
    find: (trial: string, sitting: string): SittingRecord | null => {
      const row = find.get(trial, sitting);
      return row ? toSitting(row) : null;
    },
    /** Stores the state of the sitting and of its key; nothing else of a sitting ever changes. */
    update: (trial: string, s: SittingRecord): void => {
      update.run(s.state, s.key, s.opened, s.closed, s.keyOpened, s.keyWhy, trial, s.sitting);
    },
    ...seats(db),
    ...cups(db),
  };
}

function seats(db: Database.Database) {
  const add = db.prepare(
    `INSERT INTO seats (trial, sitting, assessor, place, knowing, token_hash, position, heard)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const list = db.prepare<[string, string], SeatRow>(
    `SELECT assessor, place, knowing, position, heard FROM seats WHERE trial = ? AND sitting = ? ORDER BY place`,
  );
  const byToken = db.prepare<[string], SeatKey>(
    'SELECT trial, sitting, assessor FROM seats WHERE token_hash = ?',
  );
  const setToken = db.prepare(
    'UPDATE seats SET token_hash = ? WHERE trial = ? AND sitting = ? AND assessor = ?',
  );
  const setPosition = db.prepare(
    `UPDATE seats SET position = max(position, ?), heard = ?
     WHERE trial = ? AND sitting = ? AND assessor = ?`,
  );
  return {
    addSeat: (key: SeatKey, seat: Omit<SeatRecord, 'assessor'>, tokenHash: string | null): void => {
      const { place, knowing, position, heard } = seat;
      add.run(key.trial, key.sitting, key.assessor, place, knowing ? 1 : 0, tokenHash, position, heard);
    },
    seats: (trial: string, sitting: string): SeatRecord[] =>
      list.all(trial, sitting).map((row) => ({ ...row, knowing: row.knowing === 1 })),
    /** Which seat a token opens, by the token's SHA-256 in hexadecimal. */
    seatOf: (tokenHash: string): SeatKey | null => byToken.get(tokenHash) ?? null,
    setToken: ({ trial, sitting, assessor }: SeatKey, tokenHash: string): void => {
      setToken.run(tokenHash, trial, sitting, assessor);
    },
    /** How far a taster is; it never goes back. */
    setPosition: ({ trial, sitting, assessor }: SeatKey, position: number, heard: string): void => {
      setPosition.run(position, heard, trial, sitting, assessor);
    },
  };
}

function cups(db: Database.Database) {
  const add = db.prepare(
    'INSERT INTO cups (trial, sitting, assessor, position, code, mix, replicate) VALUES (?, ?, ?, ?, ?, ?, ?)',
  );
  const columns = 'c.assessor, c.position, c.code, c.mix, c.replicate';
  const ofSitting = db.prepare<[string, string], CupRecord>(
    `SELECT ${columns} FROM cups c JOIN seats s USING (trial, sitting, assessor)
     WHERE c.trial = ? AND c.sitting = ? ORDER BY s.place, c.position`,
  );
  const ofSeat = db.prepare<[string, string, string], CupRecord>(
    `SELECT ${columns} FROM cups c WHERE trial = ? AND sitting = ? AND assessor = ? ORDER BY position`,
  );
  const codes = db.prepare<[string], { assessor: string; code: string }>(
    'SELECT DISTINCT assessor, code FROM cups WHERE trial = ?',
  );
  return {
    addCup: ({ trial, sitting }: Omit<SeatKey, 'assessor'>, c: CupRecord): void => {
      add.run(trial, sitting, c.assessor, c.position, c.code, c.mix, c.replicate);
    },
    /** Every cup of a sitting, seat by seat in the order of tasting. */
    cups: (trial: string, sitting: string): CupRecord[] => ofSitting.all(trial, sitting),
    cupsOf: ({ trial, sitting, assessor }: SeatKey): CupRecord[] => ofSeat.all(trial, sitting, assessor),
    /** Codes that each assessor has met in this trial. */
    codesMet: (trial: string): { assessor: string; code: string }[] => codes.all(trial),
  };
}

function toSitting(row: SittingRow): SittingRecord {
  const { key_opened: keyOpened, key_why: keyWhy, ...rest } = row;
  return {
    ...rest,
    questions: JSON.parse(row.questions) as Question[],
    rests: JSON.parse(row.rests) as Rests,
    keyOpened,
    keyWhy,
  };
}
