import { useEffect, useMemo, useState } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import { wholeSteps } from '../../../trials/schema/balance-rule.ts';
import { csvText } from '../../../trials/schema/csv-text.ts';
import { toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import { Choice } from '../parts/field.tsx';
import { saveText } from '../parts/save-file.ts';
import { weighedMixes } from '../reading/reading-view.ts';
import type { Candidate } from '../results.ts';
import { trialAddress } from '../routes.ts';
import { DeskBar } from './desk-bar.tsx';
import { DeskMasses } from './desk-masses.tsx';
import { DeskPredicted } from './desk-predicted.tsx';
import { DeskSettings } from './desk-settings.tsx';
import {
  type DeskState,
  type Pin,
  pinName,
  withLock,
  withRatio,
  withSeam,
  withSetting,
} from './desk-state.ts';
import { keepWanted, OwnRound, type Wanted, wantedKept, withWanted } from './own-round.tsx';
import { type Limit, limitsOf, nearestWeighable, sharesOf } from './weighable.ts';

/** What the ratio to settle on is called among what the desk can begin from. */
const BEST = 'the best so far';

interface DeskProps {
  trial: TrialView;
  /** What was found best when mixes were last proposed. */
  best: Candidate | null;
  query: URLSearchParams;
}

/** The blend as one bar, its masses, and what it should taste like. */
export function DeskBench({ trial, best, query }: DeskProps) {
  const limits = useMemo(() => limitsOf(toBlendSpace(trial.brief)), [trial.brief]);
  const starts = useMemo(() => startsOf(trial, best, limits), [trial, best, limits]);
  const [state, setState] = useState<DeskState | null>(() => firstState(trial, limits, starts, query));
  const [pins, setPins] = useState<readonly Pin[]>([]);
  const [wanted, setWanted] = useState(() => wantedKept(trial));
  const want = (next: readonly Wanted[]) => {
    keepWanted(trial, next);
    setWanted(next);
  };
  useEffect(() => {
    if (state !== null) history.replaceState(null, '', addressOf(trial, state));
  }, [state]);
  if (state === null)
    return (
      <p class="soft">
        There is no weighed mix to begin with, and the middle of what is allowed cannot be weighed.
      </p>
    );
  const pin = () => setPins([...pins, { name: pinName(pins), steps: state.steps, settings: state.settings }]);
  return (
    <>
      <DeskBar
        components={trial.brief.components}
        limits={limits}
        state={state}
        move={(seam, by) => setState(withSeam(limits, state, seam, by))}
        lock={(index) => setState(withLock(state, index))}
      />
      <DeskSettings
        trial={trial}
        state={state}
        set={(id, value) => setState(withSetting(state, id, value))}
      />
      <DeskPredicted trial={trial} state={state} pins={pins} />
      <DeskMasses trial={trial} state={state} pins={pins} />
      <div class="row">
        <button type="button" disabled={pins.length >= 5} onClick={pin}>
          Pin this ratio
        </button>
        <button type="button" onClick={() => want(withWanted(wanted, state))}>
          Make this the next mix
        </button>
        {pins.map((one) => (
          <button type="button" key={one.name} onClick={() => setState(withRatio(state, one))}>
            Back to {one.name}
          </button>
        ))}
        {pins.length > 0 && (
          <button type="button" class="quiet" onClick={() => setPins([])}>
            Unpin all
          </button>
        )}
        <button type="button" class="quiet" onClick={() => saveRatios(trial, state, pins)}>
          Keep as ratios.csv
        </button>
      </div>
      <OwnRound trial={trial} wanted={wanted} change={want} />
      {starts.length > 0 && (
        <Choice
          label="Begin from"
          class="narrow-choice"
          value=""
          options={[['', 'choose …'], ...starts.map(({ name }) => [name, name] as const)]}
          change={(name) => {
            const start = starts.find((one) => one.name === name);
            if (start) setState(withRatio(state, start));
          }}
        />
      )}
    </>
  );
}

/** The best so far and the mixes that were weighed, brought onto the weighable grid. */
function startsOf(trial: TrialView, best: Candidate | null, limits: readonly Limit[]): Pin[] {
  const { components, batch } = trial.brief;
  const total = wholeSteps(batch.grams, batch.readability) ?? 0;
  const found =
    best === null
      ? []
      : [{ mix: BEST, shares: components.map(({ id }) => best.ratios[id] ?? 0), settings: best.settings }];
  return [...found, ...weighedMixes(trial)].flatMap(({ mix, shares, settings }) => {
    const steps = nearestWeighable(limits, shares, total);
    return steps === null ? [] : [{ name: mix, steps, settings }];
  });
}

function firstState(
  trial: TrialView,
  limits: readonly Limit[],
  starts: readonly Pin[],
  query: URLSearchParams,
): DeskState | null {
  const { components, settings, batch } = trial.brief;
  const total = wholeSteps(batch.grams, batch.readability) ?? 0;
  const asked = (query.get('at') ?? '').split(',').map(Number);
  const middle = components.map(({ low, high }) => (low + high) / 2);
  const sum = middle.reduce((all, share) => all + share, 0);
  const given = asked.length === components.length && asked.every((share) => share >= 0 && share <= 1);
  const at = given ? nearestWeighable(limits, asked, total) : null;
  const first = starts.find(({ name }) => name === BEST);
  const centre = nearestWeighable(
    limits,
    middle.map((share) => share / sum),
    total,
  );
  const steps = at ?? first?.steps ?? centre ?? starts[0]?.steps ?? null;
  if (steps === null) return null;
  const value = ({ id, low, high }: (typeof settings)[number]) => {
    const set = Number(query.get(id) ?? Number.NaN);
    return Number.isFinite(set)
      ? Math.max(low, Math.min(high, set))
      : (first?.settings[id] ?? (low + high) / 2);
  };
  return {
    steps,
    locked: components.map(() => false),
    settings: Object.fromEntries(settings.map((setting) => [setting.id, value(setting)])),
  };
}

function addressOf(trial: TrialView, state: DeskState): string {
  const at = sharesOf(state.steps)
    .map((share) => Number(share.toFixed(6)))
    .join(',');
  return trialAddress(trial.trial, 'desk', { at, ...state.settings });
}

function saveRatios(trial: TrialView, state: DeskState, pins: readonly Pin[]): void {
  const { components, settings } = trial.brief;
  const rows = [{ name: 'desk', steps: state.steps, settings: state.settings }, ...pins];
  const head = ['name', ...components.map(({ id }) => id), ...settings.map(({ id }) => id)];
  const lines = rows.map((row) => [
    row.name,
    ...sharesOf(row.steps),
    ...settings.map(({ id }) => row.settings[id] ?? null),
  ]);
  saveText('ratios.csv', csvText(head, lines), 'text/csv');
}
