import { useMemo, useState } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import { wholeSteps } from '../../../trials/schema/balance-rule.ts';
import { toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import { DeskBar } from '../desk/desk-bar.tsx';
import { type DeskState, withLock, withSeam } from '../desk/desk-state.ts';
import { limitsOf, toSteps } from '../desk/weighable.ts';
import { grams } from '../numbers.ts';
import { BlendBar } from '../parts/blend-bar.tsx';
import { Check } from '../parts/field.tsx';
import { MixLines } from '../parts/mix-lines.tsx';
import { Figures } from '../parts/page.tsx';
import type { PlannedMix } from '../results.ts';
import { type Draft, sharesIn } from './draft.ts';

interface EntryProps {
  trial: TrialView;
  mix: PlannedMix;
  draft: Draft;
  hold: (on: boolean) => void;
  keep: (on: boolean) => void;
  /** Where the mix is put, in steps of the balance; null puts it back. */
  move: (steps: readonly number[] | null) => void;
}

/** One planned mix: why it is there, what it holds, and what the maker may do with it. */
export function MixEntry({ trial, mix, draft, hold, keep, move }: EntryProps) {
  const unwanted = draft.unwanted.has(mix.mix);
  const held = draft.held.has(mix.mix) || (mix.pinned === true && !unwanted);
  const [moving, setMoving] = useState(false);
  const shares = sharesIn(trial, draft, mix);
  const ratios = Object.fromEntries(trial.brief.components.map(({ id }, i) => [id, shares[i]!]));
  return (
    <li class={unwanted ? 'left-out' : undefined}>
      <h3>
        {mix.mix}
        {held && <span class="held"> stays as it is</span>}
      </h3>
      <p>
        {draft.moved.has(mix.mix) ? 'Put here by hand.' : mix.why}{' '}
        {mix.sitting !== undefined && <span class="soft">Sitting {mix.sitting}.</span>}
      </p>
      {moving ? (
        <MixMover trial={trial} shares={shares} move={move} />
      ) : (
        <BlendBar components={trial.brief.components} ratios={ratios} />
      )}
      {!draft.moved.has(mix.mix) && (
        <Figures says="in grams">
          <MixLines
            brief={trial.brief}
            mix={mix.mix}
            ratios={mix.ratios}
            masses={mix.grams}
            settings={mix.settings}
          />
        </Figures>
      )}
      <div class="row">
        <Check checked={!unwanted} change={keep}>
          make this one
        </Check>
        {!unwanted && (
          <>
            <Check checked={held} change={hold}>
              hold it here
            </Check>
            <button type="button" class="quiet" aria-expanded={moving} onClick={() => setMoving(!moving)}>
              {moving ? 'Done moving' : 'Move it'}
            </button>
            {draft.moved.has(mix.mix) && (
              <button type="button" class="quiet" onClick={() => move(null)}>
                Put it back
              </button>
            )}
          </>
        )}
      </div>
    </li>
  );
}

interface MoverProps {
  trial: TrialView;
  shares: readonly number[];
  move: (steps: readonly number[]) => void;
}

/** The bar of the desk: drag a seam, tap to lock a share; every place it reaches is allowed and weighable. */
function MixMover({ trial, shares, move }: MoverProps) {
  const { components, batch } = trial.brief;
  const limits = useMemo(() => limitsOf(toBlendSpace(trial.brief)), [trial.brief]);
  const total = wholeSteps(batch.grams, batch.readability) ?? Math.round(batch.grams / batch.readability);
  const [state, setState] = useState<DeskState>(() => ({
    steps: toSteps(shares, total),
    locked: components.map(() => false),
    settings: {},
  }));
  return (
    <>
      <DeskBar
        components={components}
        limits={limits}
        state={state}
        move={(seam, by) => {
          const next = withSeam(limits, state, seam, by);
          setState(next);
          move(next.steps);
        }}
        lock={(index) => setState(withLock(state, index))}
      />
      <p class="small soft">
        {components
          .map(({ id }, i) => `${id} ${grams(state.steps[i]! * batch.readability, batch.readability)} g`)
          .join(', ')}
      </p>
    </>
  );
}
