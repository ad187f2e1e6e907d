import { useEffect, useRef, useState } from 'preact/hooks';
import type { Reading, TrialView } from '../../../trials/schema/api.ts';
import type { AimedAttribute } from '../../charts/aims.ts';
import { type Loaded, troubleOf, useLoaded } from '../loaded.ts';
import { chance } from '../numbers.ts';
import { Await, Trouble } from '../parts/await.tsx';
import { Term } from '../parts/term.tsx';
import { predictions } from '../reading/predictions.ts';
import { viewOf } from '../reading/reading-view.ts';
import { latest, type PredictResult } from '../results.ts';
import { ask } from '../server.ts';
import { DeskProfile, type DeskRow } from './desk-profile.tsx';
import type { DeskState, Pin } from './desk-state.ts';
import { sharesOf } from './weighable.ts';

interface PredictedProps {
  trial: TrialView;
  state: DeskState;
  pins: readonly Pin[];
}

/** What the ratio on the desk should taste like; needs a round that has been read. */
export function DeskPredicted(props: PredictedProps) {
  const reading = latest(props.trial, 'read');
  const [loaded, again] = useLoaded(reading ?? 'none', () =>
    reading === null ? Promise.resolve(null) : ask('readReading', { trial: props.trial.trial, reading }),
  );
  return (
    <Await of={loaded} what="the latest reading" again={again}>
      {(stored) =>
        stored === null ? (
          <p class="soft">What it should taste like stands here once a round has been tasted and read.</p>
        ) : (
          <PredictedShown {...props} stored={stored} />
        )
      }
    </Await>
  );
}

function PredictedShown({ trial, state, pins, stored }: PredictedProps & { stored: Reading }) {
  const attributes = viewOf(trial, stored).attributes;
  const { predicted, stale, trouble } = usePredicted(trial, stored.reading, state, pins);
  if (trouble !== null) return <Trouble of={trouble} />;
  if (predicted === null) return <p class="soft">Working out what it should taste like …</p>;
  const [desk] = predicted.rows;
  return (
    <section class={stale ? 'stale' : undefined} aria-label="What it should taste like">
      <p class="chance">
        {chance(desk?.chance)}{' '}
        <span class="small soft">
          <Term is="chance">chance</Term> of a match
        </span>
      </p>
      <DeskProfile attributes={attributes} rows={rowsOf(predicted, attributes)} />
    </section>
  );
}

function rowsOf(predicted: PredictResult, attributes: readonly AimedAttribute[]): DeskRow[] {
  return predicted.rows.map(({ name, attributes: found }) => ({
    name,
    points: attributes.map(({ id }) => {
      const one = found.find((point) => point.id === id);
      return one === undefined || one.mean === null ? null : { mean: one.mean, interval: one.interval };
    }),
  }));
}

/** Predictions of the desk and its pins, asked for when the hand rests; the last ones stay until then. */
function usePredicted(trial: TrialView, reading: string, state: DeskState, pins: readonly Pin[]) {
  const [predicted, setPredicted] = useState<PredictResult | null>(null);
  const [stale, setStale] = useState(false);
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const turn = useRef(0);
  const rows = [{ name: 'desk', steps: state.steps, settings: state.settings }, ...pins].map((row) => ({
    name: row.name,
    ratios: Object.fromEntries(trial.brief.components.map(({ id }, i) => [id, sharesOf(row.steps)[i]!])),
    settings: { ...row.settings },
  }));
  const key = JSON.stringify(rows);
  useEffect(() => {
    const mine = ++turn.current;
    setStale(true);
    const timer = setTimeout(() => {
      predictions(trial.trial, reading, rows).then(
        (found) => {
          if (turn.current !== mine) return;
          setPredicted(found);
          setTrouble(null);
          setStale(false);
        },
        (thrown) => turn.current === mine && setTrouble(troubleOf(thrown)),
      );
    }, 180);
    return () => clearTimeout(timer);
  }, [key, reading]);
  return { predicted, stale, trouble };
}
