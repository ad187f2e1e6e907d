import { count } from '../numbers.ts';
import { Trouble } from '../parts/await.tsx';
import { Field } from '../parts/field.tsx';
import { Figures } from '../parts/page.tsx';
import { answeredRungs } from './ladder.ts';
import type { Answering } from './use-answers.ts';

/** One taster after another: the three codes of each rung, and the one that was called odd. */
export function LadderAnswers({ answering }: { answering: Answering }) {
  const { now, textOf, isStrange, type, leave, waiting, trouble, again } = answering;
  return (
    <section>
      <h2>Taste</h2>
      <p>
        Lowest rung first. Type the number of the cup that each taster called the odd one: it is kept as soon
        as it stands there.
      </p>
      {now.trays.map((tray, t) => (
        <Figures
          key={tray.taster}
          says={`${tray.taster}: ${answeredRungs(tray)} of ${tray.threes.length} rungs`}
        >
          <fieldset class="ten rungs" onKeyDown={leadOn}>
            <legend class="unseen">{tray.taster}</legend>
            {tray.threes.map(({ codes }, rung) => (
              <div key={codes[0]} onFocusOut={() => leave(t, rung)}>
                <Field
                  label={`Rung ${rung + 1}`}
                  number
                  value={textOf(t, rung)}
                  change={(text) => type(t, rung, text)}
                  fault={isStrange(t, rung) ? 'none of the three' : undefined}
                  help={codes.join(' ')}
                />
              </div>
            ))}
          </fieldset>
        </Figures>
      ))}
      {trouble !== null && waiting > 0 && (
        <p class="fault">
          {count(waiting, 'answer')} not in the data yet: this browser keeps them meanwhile.
        </p>
      )}
      <Trouble of={trouble} again={again} />
    </section>
  );
}

/** Enter goes to the next rung. */
function leadOn(event: KeyboardEvent & { currentTarget: HTMLElement }) {
  if (event.key !== 'Enter') return;
  event.preventDefault();
  const places = [...event.currentTarget.querySelectorAll('input')];
  places[places.indexOf(event.target as HTMLInputElement) + 1]?.focus();
}
