import type { BallotView } from '../../trials/schema/ballot.ts';
import type { Step } from './journey.ts';
import { answerKey } from './phone-store.ts';
import { answer, kept, say } from './session.ts';

type Question = BallotView['questions'][number];

/** One set of a difference test: the cups side by side, one of them to be named; there is no blank. */
export function Choose({ step, question }: { step: Step; question: Question }) {
  const [first] = step.cups as [Step['cups'][number]];
  const value = kept.value.given[answerKey(first.code, question.id)];
  const compared = question.form === 'duo-trio' || question.form === 'tetrad';
  const open = compared ? step.cups.slice(1) : step.cups;
  return (
    <fieldset class={`question choose ${value === undefined ? '' : 'marked'}`} aria-describedby="guess">
      <legend id="ask">{wording(question, first.code)}</legend>
      <p class="set" aria-hidden="true">
        {step.cups.map(({ code }) => (
          <span key={code} class="small-code">
            {code}
          </span>
        ))}
      </p>
      <div class="buttons" role="radiogroup" aria-labelledby="ask">
        {open.map(({ code }) => (
          <label key={code} class={value === Number(code) ? 'chosen' : ''}>
            <input
              type="radio"
              name={`set-${first.code}`}
              checked={value === Number(code)}
              onChange={() => answer(first.code, question.id, Number(code))}
            />
            <span>{say('chosen', { code })}</span>
          </label>
        ))}
      </div>
      <p class="hint" id="guess">
        {say('guess')}
      </p>
    </fieldset>
  );
}

function wording({ form, name }: Question, code: string): string {
  if (form === 'triangle') return say('triangle');
  if (form === 'duo-trio') return say('duoTrio', { code });
  return form === 'tetrad' ? say('tetrad', { code }) : say('forced', { of: name });
}
