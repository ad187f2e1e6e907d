import { useState } from 'preact/hooks';
import type { SittingSummary, TrialView } from '../../../trials/schema/api.ts';
import { count } from '../numbers.ts';
import { useAct } from '../parts/act.ts';
import { Trouble } from '../parts/await.tsx';
import { Choice } from '../parts/field.tsx';
import { ask } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';

/** After the last ballot of a sitting held alone: turn each cup round, read the name under it, enter it here. */
export function CupNames({ trial, sitting }: { trial: TrialView; sitting: SittingSummary }) {
  const [names, setNames] = useState<Readonly<Record<string, string>>>({});
  const { busy, trouble, run } = useAct();
  const round = trial.roundViews.find(({ sittings }) =>
    sittings.some((one) => one.sitting === sitting.sitting),
  );
  const drinks = [...(round?.mixes.map(({ mix }) => mix) ?? []), 'reference'];
  const open = sitting.unnamed.filter((code) => (names[code] ?? '') === '').length;
  const enter = (event: Event) => {
    event.preventDefault();
    return run(async () => {
      const list = sitting.unnamed.map((code) => ({ code, mix: names[code]! }));
      await ask('nameCups', { trial: trial.trial, sitting: sitting.sitting }, { names: list });
      await openTrialOf(trial.trial);
    });
  };
  return (
    <section>
      <h2>The names under the cups</h2>
      <p>
        Every ballot is in: lift each cup or bottle, read the name under it, and enter it beside its code.
      </p>
      <form onSubmit={(event) => void enter(event)}>
        <div class="fields">
          {sitting.unnamed.map((code) => (
            <Choice
              key={code}
              label={`Under ${code}`}
              value={names[code] ?? ''}
              change={(mix) => setNames({ ...names, [code]: mix })}
              options={[['', '–'], ...drinks.map((mix) => [mix, mix] as const)]}
            />
          ))}
        </div>
        <button type="submit" class="do" disabled={busy || open > 0}>
          {open > 0 ? `${count(open, 'name')} to go` : 'Enter the names'}
        </button>
        <Trouble of={trouble} />
      </form>
    </section>
  );
}
