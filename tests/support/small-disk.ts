import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { atFileEnd } from './file-end.ts';

/** A disk of its own in memory, of so many kilobytes; null where this user may not make one. */
export function smallDisk(kilobytes: number): string | null {
  const folder = mkdtempSync(join(tmpdir(), 'dropwise-disk-'));
  const { status } = spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${kilobytes}k`, 'tmpfs', folder]);
  if (status === 0) {
    atFileEnd(() => {
      spawnSync('umount', ['-l', folder]);
      rmSync(folder, { recursive: true, force: true });
    });
    return folder;
  }
  rmSync(folder, { recursive: true, force: true });
  return null;
}

/** Makes such a disk read-only; nothing on it may be open. */
export function makeReadOnly(folder: string): boolean {
  return spawnSync('mount', ['-o', 'remount,ro', folder]).status === 0;
}
