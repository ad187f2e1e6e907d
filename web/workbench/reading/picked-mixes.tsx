import { useState } from 'preact/hooks';
import { count } from '../numbers.ts';
import { Choice } from '../parts/field.tsx';
import { ALL, AT_ONCE, NEAR, NEAREST, pickedMixes } from './pick-mixes.ts';
import type { ReadingView } from './reading-view.ts';

/** Which of many mixes are looked at. */
export interface PickedMixes {
  mixes: readonly string[];
  /** True where there were too many, so that something had to be chosen. */
  chosen: boolean;
  choice: string;
  choose: (choice: string) => void;
}

/**
 * Mixes to look at: all of them while a picture holds them, else the nearest to the target until others are chosen.
 * @param ranked names, nearest to the target first; the reference always stays
 */
export function usePickedMixes(view: ReadingView, ranked: readonly string[]): PickedMixes {
  const [choice, choose] = useState(NEAR);
  const chosen = ranked.length > AT_ONCE;
  return { mixes: chosen ? pickedMixes(view, ranked, choice) : ranked, chosen, choice, choose };
}

/** The choice among many mixes; nothing where all are shown. */
export function MixesChoice({ view, of, total }: { view: ReadingView; of: PickedMixes; total: number }) {
  if (!of.chosen) return null;
  const rounds = [...view.trial.roundViews].reverse();
  return (
    <Choice
      label="Mixes shown"
      class="narrow-choice"
      value={of.choice}
      change={of.choose}
      options={[
        [NEAR, `the ${NEAREST} nearest to the target`] as const,
        ...rounds.map(({ round }) => [String(round), `those of round ${round}`] as const),
        [ALL, `all: ${count(total, 'mix', 'mixes')}`] as const,
      ]}
    />
  );
}
