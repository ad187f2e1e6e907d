import { homedir } from 'node:os';
import { join, resolve } from 'node:path';

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * The folder that holds the data: what was asked for, else `DROPWISE_DATA`, else the usual place for a program's data
 * of this user on this system.
 */
export function dataFolder(
  asked: string | undefined,
  environment: Environment = process.env,
  platform: string = process.platform,
): string {
  const chosen = asked || environment['DROPWISE_DATA'];
  if (chosen) return resolve(chosen);
  if (platform === 'win32')
    return join(environment['APPDATA'] ?? join(homedir(), 'AppData', 'Roaming'), 'Dropwise');
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'Dropwise');
  return join(environment['XDG_DATA_HOME'] || join(homedir(), '.local', 'share'), 'dropwise');
}
