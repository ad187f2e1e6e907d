import type { Asked } from './asked.ts';
import { answer, say } from './session.ts';

/** A line without numbers; nothing stands on it until it is touched, so that no start value leads the hand. */
export function Line({ code, question, value }: Asked) {
  const [low, high] = question.scale;
  const mark = (event: Event) =>
    answer(code, question.id, Number((event.currentTarget as HTMLInputElement).value));
  const markMiddle = (event: KeyboardEvent) => {
    if (event.key === 'Enter' || event.key === ' ') mark(event);
  };
  const at = typeof value === 'number' ? value : null;
  return (
    <div class="line">
      <input
        type="range"
        class={at === null ? 'unset' : ''}
        min={low}
        max={high}
        step={(high - low) / 100}
        value={at ?? (low + high) / 2}
        aria-labelledby={`q-${question.id}`}
        aria-valuetext={at === null ? say('notMarked') : `${Math.round((100 * (at - low)) / (high - low))} %`}
        onChange={mark}
        onPointerUp={mark}
        onKeyDown={markMiddle}
      />
      <Ends words={question.words} />
    </div>
  );
}

function Ends({ words }: { words: readonly string[] }) {
  return (
    <div class="ends" aria-hidden="true">
      <span>{words[0] ?? say('least')}</span>
      <span>{words[1] ?? say('most')}</span>
    </div>
  );
}

/** The words of each step, from the scale's low end; none for bare points. */
function stepWords({ form, words }: Asked['question']): readonly string[] {
  if (form === 'points') return [];
  if (words.length > 0) return words;
  return form === 'liking' ? say('liking').split('|') : say('right').split('|');
}

/** Whole numbers as buttons: bare points in a row, or a word each in a column. */
export function Steps({ code, question, value }: Asked) {
  const [low, high] = question.scale;
  const steps = Array.from({ length: Math.round(high - low) + 1 }, (_, i) => low + i);
  const words = stepWords(question);
  return (
    <div class={words.length > 0 ? 'words' : 'points'}>
      <div class="buttons" role="radiogroup" aria-labelledby={`q-${question.id}`}>
        {steps.map((step, i) => (
          <label key={step} class={value === step ? 'chosen' : ''}>
            <input
              type="radio"
              name={`${code}-${question.id}`}
              checked={value === step}
              onChange={() => answer(code, question.id, step)}
            />
            <span>{words[i] ?? step}</span>
          </label>
        ))}
      </div>
      {words.length === 0 && <Ends words={question.words} />}
    </div>
  );
}
