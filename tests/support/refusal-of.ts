import { Refusal } from '../../trials/rounds/refusal.ts';

/** The refusal that an act ends with; fails where it does not. */
export function refusalOf(act: () => unknown): Refusal {
  try {
    act();
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown;
    throw thrown;
  }
  throw new Error('it was not refused');
}
