import type { TrialView } from '../../../trials/schema/api.ts';
import type { DeskState } from './desk-state.ts';

interface SettingsProps {
  trial: TrialView;
  state: DeskState;
  set: (id: string, value: number) => void;
}

/** What is varied beside the blend, a slider each. */
export function DeskSettings({ trial, state, set }: SettingsProps) {
  return (
    <div class="desk-settings">
      {trial.brief.settings.map(({ id, name, unit, low, high }) => (
        <div class="field" key={id}>
          <label for={`desk-${id}`}>
            {name}{' '}
            <span class="number">
              {Number((state.settings[id] ?? low).toPrecision(4))} {unit}
            </span>
          </label>
          <input
            id={`desk-${id}`}
            type="range"
            min={low}
            max={high}
            step={(high - low) / 100}
            value={state.settings[id] ?? low}
            onInput={(event) => set(id, Number(event.currentTarget.value))}
          />
        </div>
      ))}
    </div>
  );
}
