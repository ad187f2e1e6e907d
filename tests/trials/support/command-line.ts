import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { run } from '../../../trials/command/run.ts';

export interface Outcome {
  status: number;
  out: string;
  err: string;
}

/** Runs one command line in this process. */
export async function dropwise(...args: string[]): Promise<Outcome> {
  const outcome: Outcome = { status: -1, out: '', err: '' };
  outcome.status = await run(args, {
    out: (text) => {
      outcome.out += text;
    },
    err: (text) => {
      outcome.err += text;
    },
  });
  return outcome;
}

/** Files in a folder of their own, named as given; text is written as UTF-8. */
export class Folder {
  readonly path = mkdtempSync(join(tmpdir(), 'dropwise-test-'));

  write(name: string, content: string | Uint8Array | object): string {
    const file = join(this.path, name);
    const plain = typeof content === 'string' || content instanceof Uint8Array;
    writeFileSync(file, plain ? content : JSON.stringify(content, null, 2));
    return file;
  }

  remove(): void {
    rmSync(this.path, { recursive: true, force: true });
  }
}
