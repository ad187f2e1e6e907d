import type Database from 'better-sqlite3';
import type { Three } from '../schema/ladder-shapes.ts';
import type { LadderAnswer, LadderRecord, LadderTrayRecord } from './records.ts';

interface LadderRow extends Omit<LadderRecord, 'concentrations'> {
  concentrations: string;
}

/** Ladders of doses, their cups and every answer as it came; of each rung the last one counts. */
export function ladderRepository(db: Database.Database) {
  const add = db.prepare(
    'INSERT INTO ladders (trial, ladder, at, component, concentrations, seed, away) VALUES (?, ?, ?, ?, ?, ?, ?)',
  );
  const list = db.prepare<[string], LadderRow>(
    'SELECT ladder, at, component, concentrations, seed, away FROM ladders WHERE trial = ? ORDER BY ladder',
  );
  const setAway = db.prepare('UPDATE ladders SET away = ? WHERE trial = ? AND ladder = ?');
  const addTray = db.prepare(
    'INSERT INTO ladder_trays (trial, ladder, assessor, place, threes) VALUES (?, ?, ?, ?, ?)',
  );
  const trays = db.prepare<[string, number], { assessor: string; threes: string }>(
    'SELECT assessor, threes FROM ladder_trays WHERE trial = ? AND ladder = ? ORDER BY place',
  );
  const addAnswer = db.prepare(
    'INSERT INTO ladder_answers (trial, ladder, assessor, rung, code, at) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const answers = db.prepare<[string, number], LadderAnswer>(
    'SELECT assessor, rung, code, at FROM ladder_answers WHERE trial = ? AND ladder = ? ORDER BY id',
  );
  return {
    add: (trial: string, l: LadderRecord, cups: readonly LadderTrayRecord[]): void => {
      add.run(trial, l.ladder, l.at, l.component, JSON.stringify(l.concentrations), l.seed, l.away);
      cups.forEach(({ assessor, threes }, place) => {
        addTray.run(trial, l.ladder, assessor, place, JSON.stringify(threes));
      });
    },
    list: (trial: string): LadderRecord[] =>
      list.all(trial).map((row) => ({ ...row, concentrations: JSON.parse(row.concentrations) as number[] })),
    setAway: (trial: string, ladder: number, away: string | null): void => {
      setAway.run(away, trial, ladder);
    },
    trays: (trial: string, ladder: number): LadderTrayRecord[] =>
      trays
        .all(trial, ladder)
        .map(({ assessor, threes }) => ({ assessor, threes: JSON.parse(threes) as Three[] })),
    addAnswer: (trial: string, ladder: number, { assessor, rung, code, at }: LadderAnswer): void => {
      addAnswer.run(trial, ladder, assessor, rung, code, at);
    },
    /** Every answer, in the order in which it came. */
    answers: (trial: string, ladder: number): LadderAnswer[] => answers.all(trial, ladder),
  };
}
