import type { Asked } from './asked.ts';
import { Describe } from './describe.tsx';
import { answerKey } from './phone-store.ts';
import { Line, Steps } from './scale.tsx';
import { answer, kept, say } from './session.ts';

/** One question of one cup: its name, its scale, and the way out for who cannot say. */
export function QuestionBlock({ code, question }: Omit<Asked, 'value'>) {
  const value = kept.value.given[answerKey(code, question.id)];
  const state = value === undefined ? 'notMarked' : value === null ? 'cannotSaid' : 'marked';
  const id = `q-${question.id}`;
  return (
    <fieldset class={`question ${state}`} aria-describedby={`${id}-state`}>
      <legend id={id}>{question.name}</legend>
      <Answering code={code} question={question} value={value} />
      <div class="under">
        <span id={`${id}-state`} class="state" role="status">
          {say(state)}
        </span>
        <button
          type="button"
          class="blank"
          aria-pressed={value === null}
          onClick={() => answer(code, question.id, null)}
        >
          {say(question.form === 'describe' ? 'nothingToSay' : 'cannotSay')}
        </button>
      </div>
    </fieldset>
  );
}

function Answering(asked: Asked) {
  const { form } = asked.question;
  if (form === 'describe') return <Describe {...asked} />;
  return form === 'line' ? <Line {...asked} /> : <Steps {...asked} />;
}
