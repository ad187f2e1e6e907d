import { Field } from '../parts/field.tsx';
import { Figures } from '../parts/page.tsx';
import { type DrawnLadder, isStranger } from './ladder.ts';

interface AnswersProps {
  ladder: DrawnLadder;
  name: (taster: string, rung: number, code: string) => void;
}

/** One taster after another: the three codes of each rung, and the one that was called odd. */
export function LadderAnswers({ ladder, name }: AnswersProps) {
  return (
    <section>
      <h2>Taste</h2>
      <p>Lowest rung first. Type the number of the cup that each taster called the odd one.</p>
      {ladder.trays.map(({ taster, threes }) => {
        const done = threes.filter(({ codes }, k) => codes.includes(ladder.named[taster]?.[k] ?? '')).length;
        return (
          <Figures key={taster} says={`${taster}: ${done} of ${threes.length} rungs`}>
            <fieldset class="ten rungs" onKeyDown={leadOn}>
              <legend class="unseen">{taster}</legend>
              {threes.map(({ codes }, rung) => (
                <Field
                  key={codes[0]}
                  label={`Rung ${rung + 1}`}
                  number
                  value={ladder.named[taster]?.[rung] ?? ''}
                  change={(code) => name(taster, rung, code)}
                  fault={isStranger(ladder, taster, rung) ? 'none of the three' : undefined}
                  help={codes.join(' ')}
                />
              ))}
            </fieldset>
          </Figures>
        );
      })}
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
