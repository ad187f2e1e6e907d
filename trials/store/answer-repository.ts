import type Database from 'better-sqlite3';
import type { AnswerRecord, CountedAnswer, SeatKey } from './records.ts';

interface AnswerRow {
  message: string;
  code: string;
  question: string;
  value: number | null;
  words: string | null;
  phone: string;
  count: number;
  late: number;
  received: string;
}

/**
 * What each phone finally said about a question: its message with the highest count of its own, so that a message
 * that was held up on the way does not undo a later one of the same phone.
 */
const lastWords = (whose: string) => `
  SELECT sequence, assessor, code, question, value, words, late FROM (
    SELECT *, row_number() OVER (
      PARTITION BY assessor, code, question, phone, late ORDER BY count DESC, sequence DESC
    ) AS back FROM answers WHERE trial = @trial AND sitting = @sitting ${whose}
  ) WHERE back = 1`;

/** The answer that counts for every question about every cup: the newest of the last words. */
const counting = (whose: string) =>
  `SELECT assessor, code, question, value, words FROM (
     SELECT *, row_number() OVER (PARTITION BY assessor, code, question ORDER BY sequence DESC) AS newest
     FROM (${lastWords(whose)}) WHERE late <= @late
   ) WHERE newest = 1 ORDER BY assessor, code, question`;

/** Answers as they came, message by message, and those that count. */
export function answerRepository(db: Database.Database) {
  const columns = 'message, code, question, value, words, phone, count, late, received';
  const add = db.prepare(
    `INSERT INTO answers (trial, sitting, assessor, ${columns}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const find = db.prepare<[string, string, string, string], AnswerRow>(
    `SELECT ${columns} FROM answers WHERE trial = ? AND sitting = ? AND assessor = ? AND message = ?`,
  );
  const ofSeat = db.prepare<[string, string, string], AnswerRow>(
    `SELECT ${columns} FROM answers WHERE trial = ? AND sitting = ? AND assessor = ? ORDER BY sequence`,
  );
  const addConsent = db.prepare(
    'INSERT OR IGNORE INTO consents (trial, sitting, assessor, version, at) VALUES (?, ?, ?, ?, ?)',
  );
  const consents = db.prepare<[string, string], { assessor: string; version: string; at: string }>(
    'SELECT assessor, version, at FROM consents WHERE trial = ? AND sitting = ? ORDER BY id',
  );
  return {
    add: ({ trial, sitting, assessor }: SeatKey, a: AnswerRecord): void => {
      add.run(
        ...[trial, sitting, assessor, a.message, a.code, a.question],
        ...(typeof a.value === 'string' ? [null, a.value] : [a.value, null]),
        ...[a.phone, a.count, a.late ? 1 : 0, a.received],
      );
    },
    find: ({ trial, sitting, assessor }: SeatKey, message: string): AnswerRecord | null => {
      const row = find.get(trial, sitting, assessor, message);
      return row ? toAnswer(row) : null;
    },
    /** Every message of a seat in the order in which the server took them. */
    messages: ({ trial, sitting, assessor }: SeatKey): AnswerRecord[] =>
      ofSeat.all(trial, sitting, assessor).map(toAnswer),
    ...tallies(db),
    /** Consent is kept once a version; a repeat changes nothing. */
    addConsent: ({ trial, sitting, assessor }: SeatKey, version: string, at: string): void => {
      addConsent.run(trial, sitting, assessor, version, at);
    },
    consents: (trial: string, sitting: string) => consents.all(trial, sitting),
  };
}

interface Of {
  trial: string;
  sitting: string;
}

/** What may be known of the answers while the key is sealed, and the answers that count. */
function tallies(db: Database.Database) {
  const counted = db.prepare<[Of & { late: number }], CountedRow>(counting(''));
  const ofSeat = db.prepare<[SeatKey & { late: number }], CountedRow>(counting('AND assessor = @assessor'));
  const answered = db.prepare<[Of & { aside: string }], { assessor: string; code: string; answered: number }>(
    `SELECT assessor, code, count(DISTINCT question) AS answered FROM answers
     WHERE trial = @trial AND sitting = @sitting AND question NOT IN (SELECT value FROM json_each(@aside))
     GROUP BY assessor, code`,
  );
  const bySeat = db.prepare<[Of], { assessor: string; phones: number; late: number; heard: string | null }>(
    `SELECT assessor, count(DISTINCT phone) AS phones, sum(late) AS late, max(received) AS heard FROM answers
     WHERE trial = @trial AND sitting = @sitting GROUP BY assessor`,
  );
  const clashes = db.prepare<[SeatKey], { clashes: number }>(
    `SELECT count(*) AS clashes FROM (
       SELECT 1 FROM (${lastWords('AND assessor = @assessor')}) GROUP BY code, question
       HAVING count(DISTINCT coalesce(value, 'w' || words, 'blank')) > 1
     )`,
  );
  return {
    /**
     * The answer that counts for every question about every cup: of what each phone finally said, the newest by
     * the server's sequence. Late ones only `withLate`.
     */
    counted: (trial: string, sitting: string, withLate: boolean): CountedAnswer[] =>
      counted.all({ trial, sitting, late: withLate ? 1 : 0 }).map(toCounted),
    /** The same for one taster. */
    countedOf: ({ trial, sitting, assessor }: SeatKey, withLate: boolean): CountedAnswer[] =>
      ofSeat.all({ trial, sitting, assessor, late: withLate ? 1 : 0 }).map(toCounted),
    /** Questions answered about each cup, but for those set aside. */
    answered: (trial: string, sitting: string, aside: readonly string[] = []) =>
      answered.all({ trial, sitting, aside: JSON.stringify(aside) }),
    bySeat: (trial: string, sitting: string) => bySeat.all({ trial, sitting }),
    /** Questions on which two phones with one taster's link finally disagree. */
    clashes: ({ trial, sitting, assessor }: SeatKey): number =>
      clashes.get({ trial, sitting, assessor })!.clashes,
  };
}

type CountedRow = Omit<CountedAnswer, 'value'> & { value: number | null; words: string | null };

function toCounted({ words, value, ...rest }: CountedRow): CountedAnswer {
  return { ...rest, value: words ?? value };
}

function toAnswer({ words, value, ...rest }: AnswerRow): AnswerRecord {
  return { ...rest, value: words ?? value, late: rest.late === 1 };
}
