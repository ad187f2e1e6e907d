import type { TrialView } from '../../../trials/schema/api.ts';
import { keep, kept } from '../kept.ts';
import { count, parts } from '../numbers.ts';
import { AcceptRound } from '../parts/accept-round.tsx';
import { settingsSay } from '../parts/mix-lines.tsx';
import { offerUndo } from '../parts/undo.tsx';
import type { Pin } from './desk-state.ts';
import { sharesOf } from './weighable.ts';

/** A ratio that is to be made. */
export type Wanted = Pick<Pin, 'steps' | 'settings'>;

interface OwnRoundProps {
  trial: TrialView;
  wanted: readonly Wanted[];
  change: (wanted: readonly Wanted[]) => void;
}

/** The ratios taken from the desk for the next round; any can be left out again before the round is made. */
export function OwnRound({ trial, wanted, change }: OwnRoundProps) {
  if (wanted.length === 0) return null;
  const { components, batch } = trial.brief;
  const leaveOut = (one: Wanted) => {
    change(wanted.filter((other) => other !== one));
    offerUndo('Left out of the next round.', () => change(wanted));
  };
  const grams = ({ steps }: Wanted) =>
    Object.fromEntries(components.map(({ id }, i) => [id, massOf(steps[i]!, batch.readability)]));
  return (
    <section>
      <h2>For the next round: {count(wanted.length, 'mix', 'mixes')}</h2>
      <ol>
        {wanted.map((one) => (
          <li key={keyOf(one)}>
            {components.map(({ id }, i) => `${id} ${parts(sharesOf(one.steps)[i]!)}`).join(' : ')}
            <span class="small soft"> {settingsSay(trial.brief, one.settings)}</span>{' '}
            <button type="button" class="quiet" onClick={() => leaveOut(one)}>
              leave out
            </button>
          </li>
        ))}
      </ol>
      <AcceptRound
        trial={trial}
        of={{ own: wanted.map((one) => ({ grams: grams(one), settings: { ...one.settings } })) }}
        made={() => change([])}
      />
    </section>
  );
}

/** Whole steps of the balance as grams, free of what binary fractions add. */
function massOf(steps: number, readability: number): number {
  return Number((steps * readability).toPrecision(12));
}

function keyOf({ steps, settings }: Wanted): string {
  return JSON.stringify([steps, settings]);
}

/** Adds a ratio unless it is there already. */
export function withWanted(wanted: readonly Wanted[], { steps, settings }: Wanted): readonly Wanted[] {
  const one = { steps, settings };
  return wanted.some((other) => keyOf(other) === keyOf(one)) ? wanted : [...wanted, one];
}

/** What was wanted when the maker last left this desk; forgotten where the brief has other components now. */
export function wantedKept(trial: TrialView): readonly Wanted[] {
  const found = kept<Wanted[]>(`wanted:${trial.trial}`) ?? [];
  const total = Math.round(trial.brief.batch.grams / trial.brief.batch.readability);
  return found.filter(
    ({ steps }) =>
      steps.length === trial.brief.components.length && steps.reduce((sum, step) => sum + step, 0) === total,
  );
}

export function keepWanted(trial: TrialView, wanted: readonly Wanted[]): void {
  keep(`wanted:${trial.trial}`, wanted.length > 0 ? wanted : null);
}
