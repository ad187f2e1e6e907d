import type { Hooks } from '../../engine/hooks.ts';
import * as operations from '../../trials/rounds/operations.ts';
import type { Assignment } from '../../trials/rounds/readings.ts';

/** Runs the engine on an assignment: the same kind, input and seed give the same result. */
export async function compute(
  { kind, input, seed }: Pick<Assignment, 'kind' | 'input' | 'seed'>,
  hooks: Hooks,
): Promise<unknown> {
  return operations.compute(kind, input, seed, hooks);
}
