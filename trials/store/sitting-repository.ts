import type Database from 'better-sqlite3';
import type { CupRecord, Manner, Question, Rests, SeatKey, SeatRecord, SittingRecord } from './records.ts';

interface SittingRow {
  sitting: string;
  round: number;
  label: string;
  state: SittingRecord['state'];
  key: SittingRecord['key'];
  seed: number;
  questions: string;
  rests: string;
  manner: string | null;
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
  absent: number | null;
}

const SITTING_COLUMNS =
  'sitting, round, label, state, key, seed, questions, rests, manner, drawn, opened, closed, key_opened, key_why';

/** Sittings with their seats and cups. Of a taster's token only the SHA-256 is ever stored. */
export function sittingRepository(db: Database.Database) {
  const addSitting = db.prepare(
    `INSERT INTO sittings (trial, ${SITTING_COLUMNS}) VALUES (${Array.from({ length: 15 }, () => '?').join(', ')})`,
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
        ...[trial, s.sitting, s.round, s.label, s.state, s.key, s.seed, questions, rests],
        ...[JSON.stringify(s.manner), s.drawn, s.opened, s.closed, s.keyOpened, s.keyWhy],
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
    `INSERT INTO seats (trial, sitting, assessor, place, knowing, token_hash, position, heard, absent)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const list = db.prepare<[string, string], SeatRow>(
    `SELECT assessor, place, knowing, position, heard, absent FROM seats WHERE trial = ? AND sitting = ? ORDER BY place`,
  );
  const byToken = db.prepare<[string], SeatKey>(
    'SELECT trial, sitting, assessor FROM seats WHERE token_hash = ?',
  );
  const setToken = db.prepare(
    'UPDATE seats SET token_hash = ? WHERE trial = ? AND sitting = ? AND assessor = ?',
  );
  const setAbsent = db.prepare(
    'UPDATE seats SET absent = ? WHERE trial = ? AND sitting = ? AND assessor = ?',
  );
  const setPosition = db.prepare(
    `UPDATE seats SET position = max(position, ?), heard = ?
     WHERE trial = ? AND sitting = ? AND assessor = ?`,
  );
  return {
    addSeat: (key: SeatKey, seat: Omit<SeatRecord, 'assessor'>, tokenHash: string | null): void => {
      const { place, knowing, position, heard, absent } = seat;
      add.run(
        ...[key.trial, key.sitting, key.assessor, place, knowing ? 1 : 0],
        ...[tokenHash, position, heard, absent ? 1 : 0],
      );
    },
    seats: (trial: string, sitting: string): SeatRecord[] =>
      list
        .all(trial, sitting)
        .map((row) => ({ ...row, knowing: row.knowing === 1, absent: row.absent === 1 })),
    /** Which seat a token opens, by the token's SHA-256 in hexadecimal. */
    seatOf: (tokenHash: string): SeatKey | null => byToken.get(tokenHash) ?? null,
    setToken: ({ trial, sitting, assessor }: SeatKey, tokenHash: string): void => {
      setToken.run(tokenHash, trial, sitting, assessor);
    },
    setAbsent: ({ trial, sitting, assessor }: SeatKey, absent: boolean): void => {
      setAbsent.run(absent ? 1 : 0, trial, sitting, assessor);
    },
    /** How far a taster is; it never goes back. */
    setPosition: ({ trial, sitting, assessor }: SeatKey, position: number, heard: string): void => {
      setPosition.run(position, heard, trial, sitting, assessor);
    },
  };
}

function cups(db: Database.Database) {
  const add = db.prepare(
    'INSERT INTO cups (trial, sitting, assessor, position, code, mix, replicate, part) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
  );
  const columns = 'c.assessor, c.position, c.code, c.mix, c.replicate, c.part';
  const ofSitting = db.prepare<[string, string], CupRecord>(
    `SELECT ${columns} FROM cups c JOIN seats s USING (trial, sitting, assessor)
     WHERE c.trial = ? AND c.sitting = ? ORDER BY s.place, c.position`,
  );
  const ofSeat = db.prepare<[string, string, string], CupRecord>(
    `SELECT ${columns} FROM cups c WHERE trial = ? AND sitting = ? AND assessor = ? ORDER BY position`,
  );
  const name = db.prepare(
    'UPDATE cups SET mix = ?, replicate = ? WHERE trial = ? AND sitting = ? AND assessor = ? AND code = ?',
  );
  const clear = db.prepare('DELETE FROM cups WHERE trial = ? AND sitting = ?');
  const codes = db.prepare<[string], { assessor: string; code: string }>(
    'SELECT DISTINCT assessor, code FROM cups WHERE trial = ?',
  );
  return {
    addCup: ({ trial, sitting }: Omit<SeatKey, 'assessor'>, c: CupRecord): void => {
      add.run(trial, sitting, c.assessor, c.position, c.code, c.mix, c.replicate, c.part);
    },
    /** Every cup of a sitting, seat by seat in the order of tasting. */
    cups: (trial: string, sitting: string): CupRecord[] => ofSitting.all(trial, sitting),
    cupsOf: ({ trial, sitting, assessor }: SeatKey): CupRecord[] => ofSeat.all(trial, sitting, assessor),
    /** Writes down what a cup held, once the name under it has been read. */
    nameCup: ({ trial, sitting }: Omit<SeatKey, 'assessor'>, c: CupRecord): void => {
      name.run(c.mix, c.replicate, trial, sitting, c.assessor, c.code);
    },
    /** Takes every cup of a sitting away, before it is drawn again. */
    clearCups: (trial: string, sitting: string): void => {
      clear.run(trial, sitting);
    },
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
    manner: JSON.parse(row.manner ?? '{}') as Manner,
    keyOpened,
    keyWhy,
  };
}
