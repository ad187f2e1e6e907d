import { useEffect, useRef, useState } from 'preact/hooks';
import type { Reading, TrialView } from '../../../trials/schema/api.ts';
import { type Loaded, troubleOf, useLoaded } from '../loaded.ts';
import type { Scores } from '../model/messages.ts';
import { modelOf } from '../model/panel-model.ts';
import { chance } from '../numbers.ts';
import { Await, Trouble } from '../parts/await.tsx';
import { Term } from '../parts/term.tsx';
import { viewOf } from '../reading/reading-view.ts';
import { latest } from '../results.ts';
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
    reading === null ? Promise.resolve(null) : ask('readShown', { trial: props.trial.trial, reading }),
  );
  return (
    <Await of={loaded} what="the latest reading" again={again} leads>
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
  const { rows, joint, each, pinned, trouble } = usePredicted(trial, stored, state, pins);
  if (trouble !== null) return <Trouble of={trouble} />;
  if (rows === null)
    return (
      <section aria-label="What it should taste like">
        <p class="chance stale">
          <span class="small soft">Learning what the scores say …</span>
        </p>
        <DeskProfile attributes={attributes} rows={[]} each={each} />
      </section>
    );
  return (
    <section aria-label="What it should taste like">
      <p class={joint === null ? 'chance stale' : 'chance'}>
        {chance(joint)}{' '}
        <span class="small soft">
          <Term is="chance">chance</Term> of a match
        </span>
      </p>
      {pins.length > 0 && (
        <p class="soft small number">
          {pins.map(({ name }, at) => `${name}: ${chance(pinned[at] ?? null)}`).join(' · ')}
        </p>
      )}
      <DeskProfile attributes={attributes} rows={rows} each={each} />
    </section>
  );
}

/** Scores follow the hand; chances, which cost more, follow when it rests. */
function usePredicted(trial: TrialView, stored: Reading, state: DeskState, pins: readonly Pin[]) {
  const [rows, setRows] = useState<DeskRow[] | null>(null);
  const [chances, setChances] = useState<DeskChances>(NO_CHANCE);
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const turn = useRef(0);
  const asked = [{ name: 'desk', steps: state.steps, settings: state.settings }, ...pins];
  const points = asked.map(({ steps, settings }) => ({
    shares: sharesOf(steps),
    settings: trial.brief.settings.map(({ id, low }) => settings[id] ?? low),
  }));
  const key = JSON.stringify(points);
  useEffect(() => {
    const mine = ++turn.current;
    const isNow = () => turn.current === mine;
    const model = modelOf(stored);
    const fail = (thrown: unknown) => isNow() && setTrouble(troubleOf(thrown));
    model.scores(points).then((found) => isNow() && setRows(rowsOf(asked, found)), fail);
    const timer = setTimeout(() => {
      model.chances(points, 2000).then(({ joint, each }) => {
        if (!isNow()) return;
        setChances({
          joint: joint?.[0] ?? null,
          each: each.map((one) => one?.[0] ?? null),
          pinned: [...(joint ?? [])].slice(1),
        });
      }, fail);
    }, 150);
    return () => clearTimeout(timer);
  }, [key, stored.reading]);
  return { rows, ...chances, trouble };
}

/** Of a match: of the ratio on the desk, of each attribute by itself there, and of each pinned ratio. */
interface DeskChances {
  joint: number | null;
  each: (number | null)[];
  pinned: number[];
}

const NO_CHANCE: DeskChances = { joint: null, each: [], pinned: [] };

function rowsOf(asked: readonly Pick<Pin, 'name'>[], found: readonly (Scores | null)[]): DeskRow[] {
  return asked.map(({ name }, at) => ({
    name,
    points: found.map((scores) =>
      scores === null ? null : { mean: scores.mean[at]!, interval: [scores.low[at]!, scores.high[at]!] },
    ),
  }));
}
