import { type ChildProcess, spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { atFileEnd } from './file-end.ts';

const START = new URL('../../web/server/start.ts', import.meta.url).pathname;

/** The workbench as a process of its own. */
export interface Started {
  child: ChildProcess;
  base: string;
  /** All lines it has printed. */
  lines: string[];
  ended: Promise<number | null>;
}

/** Starts the workbench from source and waits until it says where it is. Rejects with its words where it ends. */
export function startProcess(
  args: readonly string[],
  environment: Record<string, string> = {},
): Promise<Started> {
  const child = spawn(process.execPath, ['--import', 'tsx', START, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, DROPWISE_LOG: 'error', ...environment },
  });
  atFileEnd(() => child.kill('SIGKILL'));
  const lines: string[] = [];
  const ended = new Promise<number | null>((resolve) => child.on('exit', (code) => resolve(code)));
  return new Promise((resolve, reject) => {
    for (const stream of [child.stdout, child.stderr])
      createInterface({ input: stream }).on('line', (line) => {
        lines.push(line);
        if (!line.startsWith('dropwise: data in')) return;
        const base = lines.map((l) => /open (http\S+)/.exec(l)?.[1]).find((found) => found !== undefined);
        if (base !== undefined) resolve({ child, base, lines, ended });
      });
    void ended.then((code) => reject(new Error(`ended with ${code}: ${lines.join('\n')}`)));
  });
}
