import type { LadderView, TrialView } from '../../../trials/schema/api.ts';
import { count, figure, when } from '../numbers.ts';
import { answeredRungs, componentName, readLadder } from './ladder.ts';

interface OthersProps {
  trial: TrialView;
  /** All but the one in hand. */
  ladders: readonly LadderView[];
  look: (ladder: number) => void;
  putAway: (ladder: number, away: boolean) => void;
}

/** The trial's other ladders: each can be taken in hand again; one put away is kept and can be brought back. */
export function OtherLadders({ trial, ladders, look, putAway }: OthersProps) {
  if (ladders.length === 0) return null;
  return (
    <section>
      <h2>Other ladders</h2>
      <p class="soft">Kept with all their answers; one that is put away too.</p>
      <ul class="people">
        {[...ladders].reverse().map((one) => (
          <li key={one.ladder}>
            <strong>
              Ladder {one.ladder}, {componentName(trial, one.component)}
            </strong>
            <span class="small">
              drawn {when(one.drawn)}; {howFar(one)}
            </span>
            {one.away === null ? (
              <>
                <button type="button" onClick={() => look(one.ladder)}>
                  Look at ladder {one.ladder}
                </button>
                <button type="button" class="quiet" onClick={() => putAway(one.ladder, true)}>
                  Put ladder {one.ladder} away
                </button>
              </>
            ) : (
              <button type="button" class="quiet" onClick={() => putAway(one.ladder, false)}>
                Put away: bring ladder {one.ladder} back
              </button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function howFar(ladder: LadderView): string {
  const done = ladder.trays.filter((tray) => answeredRungs(tray) === tray.threes.length).length;
  const answered = `${done} of ${count(ladder.trays.length, 'taster')} answered every rung`;
  const { found } = readLadder(ladder);
  return found === null
    ? answered
    : `${answered}, noticed from about ${figure(found.threshold)} mg a litre on`;
}
