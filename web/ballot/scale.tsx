import type { BallotView } from '../../trials/schema/ballot.ts';
import { answerKey } from './phone-store.ts';
import { answer, kept, say } from './session.ts';

type Question = BallotView['questions'][number];

/** One question of one cup: its name, its scale, and the way out for who cannot say. */
export function QuestionBlock({ code, question }: { code: string; question: Question }) {
  const value = kept.value.given[answerKey(code, question.id)];
  const state = value === undefined ? 'notMarked' : value === null ? 'cannotSaid' : 'marked';
  const id = `q-${question.id}`;
  return (
    <fieldset class={`question ${state}`} aria-describedby={`${id}-state`}>
      <legend id={id}>{question.name}</legend>
      {question.form === 'points' ? (
        <Points code={code} question={question} value={value} />
      ) : (
        <Line code={code} question={question} value={value} />
      )}
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
          {say('cannotSay')}
        </button>
      </div>
    </fieldset>
  );
}

interface ScaleProps {
  code: string;
  question: Question;
  value: number | null | undefined;
}

/** A line without numbers; nothing stands on it until it is touched, so that no start value leads the hand. */
function Line({ code, question, value }: ScaleProps) {
  const [low, high] = question.scale;
  const mark = (event: Event) =>
    answer(code, question.id, Number((event.currentTarget as HTMLInputElement).value));
  const markMiddle = (event: KeyboardEvent) => {
    if (event.key === 'Enter' || event.key === ' ') mark(event);
  };
  return (
    <div class="line">
      <input
        type="range"
        class={value == null ? 'unset' : ''}
        min={low}
        max={high}
        step={(high - low) / 100}
        value={value ?? (low + high) / 2}
        aria-labelledby={`q-${question.id}`}
        aria-valuetext={
          value == null ? say('notMarked') : `${Math.round((100 * (value - low)) / (high - low))} %`
        }
        onChange={mark}
        onPointerUp={mark}
        onKeyDown={markMiddle}
      />
      <div class="ends" aria-hidden="true">
        <span>{question.ends[0]}</span>
        <span>{question.ends[1]}</span>
      </div>
    </div>
  );
}

/** Whole numbers as buttons. */
function Points({ code, question, value }: ScaleProps) {
  const [low, high] = question.scale;
  const steps = Array.from({ length: Math.round(high - low) + 1 }, (_, i) => low + i);
  return (
    <div class="points">
      <div class="buttons" role="radiogroup" aria-labelledby={`q-${question.id}`}>
        {steps.map((step) => (
          <label key={step} class={value === step ? 'chosen' : ''}>
            <input
              type="radio"
              name={`${code}-${question.id}`}
              checked={value === step}
              onChange={() => answer(code, question.id, step)}
            />
            <span>{step}</span>
          </label>
        ))}
      </div>
      <div class="ends" aria-hidden="true">
        <span>{question.ends[0]}</span>
        <span>{question.ends[1]}</span>
      </div>
    </div>
  );
}
