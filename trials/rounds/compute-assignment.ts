import { checkpoint, type Hooks } from '../../engine/hooks.ts';
import { compute } from './operations.ts';
import type { Assignment } from './readings.ts';

interface Knowing {
  servings: readonly { assessor: string }[];
  setAside: readonly string[];
  knowing: readonly string[];
}

/**
 * Computes an assignment. Where some assessors know the formula, a reading holds a second one without them, so that
 * both can be seen side by side.
 */
export async function computeAssignment(
  { kind, input, seed }: Pick<Assignment, 'kind' | 'input' | 'seed'>,
  hooks?: Hooks,
): Promise<unknown> {
  const result = await compute(kind, input, seed, hooks);
  if (kind !== 'read') return result;
  const { servings, setAside, knowing } = input as Knowing;
  const without = [...new Set([...setAside, ...knowing])];
  const someKnow = knowing.some(
    (name) => !setAside.includes(name) && servings.some((s) => s.assessor === name),
  );
  const someLeft = servings.some(({ assessor }) => !without.includes(assessor));
  if (!someKnow || !someLeft) return result;
  checkpoint(hooks, 0.6, 'reading again without those who know the formula');
  const withoutKnowing = await compute(kind, { ...(input as Knowing), setAside: without }, seed, hooks);
  return { ...(result as object), withoutKnowing };
}
