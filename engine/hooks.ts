import { EngineError } from './errors.ts';

/** How a long computation talks to its caller: progress in 0..1 with words, and a question whether to stop. */
export interface Hooks {
  progress?(share: number, doing: string): void;
  cancelled?(): boolean;
}

/** Reports progress and throws `cancelled` where the caller asked to stop. */
export function checkpoint(hooks: Hooks | undefined, share: number, doing: string): void {
  hooks?.progress?.(share, doing);
  if (hooks?.cancelled?.())
    throw new EngineError('cancelled', 'hooks', true, 'not cancelled', 'stopped on request');
}
