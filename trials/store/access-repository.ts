import type Database from 'better-sqlite3';
import type { CookieRecord } from './records.ts';

/** Cookies, pourers' links and the house's own settings. Tokens are stored as SHA-256 only. */
export function accessRepository(db: Database.Database) {
  const addCookie = db.prepare(
    'INSERT INTO cookies (hash, role, trial, sitting, made, ends) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const cookie = db.prepare<[string], CookieRecord>(
    'SELECT role, trial, sitting, ends FROM cookies WHERE hash = ?',
  );
  const dropCookie = db.prepare('DELETE FROM cookies WHERE hash = ?');
  const dropEnded = db.prepare('DELETE FROM cookies WHERE ends <= ?');
  const dropMakers = db.prepare("DELETE FROM cookies WHERE role = 'maker'");
  const addLink = db.prepare(
    'INSERT INTO pourer_links (token_hash, trial, sitting, made) VALUES (?, ?, ?, ?)',
  );
  const link = db.prepare<[string], { trial: string; sitting: string }>(
    'SELECT trial, sitting FROM pourer_links WHERE token_hash = ?',
  );
  const read = db.prepare<[string], { value: string }>('SELECT value FROM house WHERE name = ?');
  const write = db.prepare(
    'INSERT INTO house (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value',
  );
  return {
    addCookie: (hash: string, made: string, c: CookieRecord): void => {
      addCookie.run(hash, c.role, c.trial, c.sitting, made, c.ends);
    },
    cookie: (hash: string): CookieRecord | null => cookie.get(hash) ?? null,
    dropCookie: (hash: string): void => {
      dropCookie.run(hash);
    },
    dropEndedCookies: (now: string): void => {
      dropEnded.run(now);
    },
    /** Everyone who came in by the passcode must enter it again. */
    dropMakerCookies: (): void => {
      dropMakers.run();
    },
    addPourerLink: (tokenHash: string, trial: string, sitting: string, made: string): void => {
      addLink.run(tokenHash, trial, sitting, made);
    },
    pourerLink: (tokenHash: string) => link.get(tokenHash) ?? null,
    houseSetting: (name: string): string | null => read.get(name)?.value ?? null,
    setHouseSetting: (name: string, value: string): void => {
      write.run(name, value);
    },
  };
}
