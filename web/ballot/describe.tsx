import { useEffect, useRef, useState } from 'preact/hooks';
import type { Asked } from './asked.ts';
import { answer, say } from './session.ts';

/** Words typed are kept when so many milliseconds pass without another. */
const PAUSE = 600;
const MOST = 300;

/** Offered words to tap, and a field for words of one's own; both make one answer, with commas between. */
export function Describe({ code, question, value }: Asked) {
  const said = typeof value === 'string' ? value.split(', ') : [];
  const offered = question.words;
  const ticked = said.filter((word) => offered.includes(word));
  const [own, setOwn] = useState(said.filter((word) => !offered.includes(word)).join(', '));
  const later = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const keep = (words: readonly string[], typed: string) => {
    clearTimeout(later.current);
    const text = [...words, ...typed.split(/[,;\n]/).map((word) => word.trim())].filter(
      (word) => word !== '',
    );
    answer(code, question.id, text.length > 0 ? text.join(', ').slice(0, MOST) : null);
  };
  useEffect(() => () => clearTimeout(later.current), []);
  const type = (typed: string) => {
    setOwn(typed);
    clearTimeout(later.current);
    later.current = setTimeout(() => keep(ticked, typed), PAUSE);
  };
  const turn = (word: string) =>
    keep(
      offered.filter((one) => (one === word ? !ticked.includes(word) : ticked.includes(one))),
      own,
    );
  return (
    <div class="describe">
      <div class="buttons">
        {offered.map((word) => (
          <label key={word} class={ticked.includes(word) ? 'chosen' : ''}>
            <input type="checkbox" checked={ticked.includes(word)} onChange={() => turn(word)} />
            <span>{word}</span>
          </label>
        ))}
      </div>
      <label class="own">
        <span>{say('describeOwn')}</span>
        <input
          type="text"
          maxLength={200}
          autocomplete="off"
          value={own}
          onInput={(event) => type(event.currentTarget.value)}
          onBlur={() => own.trim() !== '' && keep(ticked, own)}
        />
      </label>
    </div>
  );
}
