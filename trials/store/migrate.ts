import type Database from 'better-sqlite3';
import { APPLICATION_ID } from './migrations.ts';

/** The version of the data behind a connection: how many migrations it has had. */
export function versionOf(db: Database.Database): number {
  return Number(db.pragma('user_version', { simple: true }));
}

/**
 * Takes the data to the newest version, all steps in one transaction: either every one is done or none.
 * @param keepCopy called before the first step where there is something to lose
 * @returns the versions before and after
 */
export function migrate(
  db: Database.Database,
  migrations: readonly string[],
  keepCopy: (from: number) => void,
): { from: number; to: number } {
  const from = versionOf(db);
  const to = migrations.length;
  if (from >= to) return { from, to: from };
  if (from > 0) keepCopy(from);
  db.transaction(() => {
    for (const sql of migrations.slice(from)) db.exec(sql);
    db.pragma(`application_id = ${APPLICATION_ID}`);
    db.pragma(`user_version = ${to}`);
  }).immediate();
  return { from, to };
}
