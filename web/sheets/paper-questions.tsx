import type { PouringSheet } from '../../trials/schema/api.ts';
import { wordsOf } from '../../trials/schema/scale-form.ts';

type Question = PouringSheet['questions'][number];

/** One question about one cup, in the form it is asked in. */
export function PaperQuestion({ question }: { question: Question }) {
  const { name, form } = question;
  return (
    <div class="question">
      <span class="asked">{name}</span>
      {form === 'line' && <Line words={wordsOf(question)} />}
      {form === 'points' && <Points words={wordsOf(question)} scale={question.scale} />}
      {form === 'describe' && <OwnWords words={question.words} />}
      {form !== 'line' && form !== 'points' && form !== 'describe' && <Words words={wordsOf(question)} />}
    </div>
  );
}

function Ends({ words }: { words: readonly string[] }) {
  return (
    <span class="ends">
      <span>{words[0]}</span>
      <span>{words[1]}</span>
    </span>
  );
}

/** A line of exactly 100 mm: the millimetres from its left end are the hundredths of the scale. */
function Line({ words }: { words: readonly string[] }) {
  return (
    <div class="mark">
      <Ends words={words} />
      <span class="mark-line" />
    </div>
  );
}

function Points({ words, scale: [low, high] }: { words: readonly string[]; scale: Question['scale'] }) {
  return (
    <div class="mark">
      <Ends words={words} />
      <span class="points">
        {Array.from({ length: high - low + 1 }, (_, step) => (
          <span class="point" key={step}>
            {low + step}
          </span>
        ))}
      </span>
    </div>
  );
}

/** A word for each step, one to be ringed. */
function Words({ words }: { words: readonly string[] }) {
  return (
    <div class="mark">
      <span class="paper-words">
        {words.map((word) => (
          <span class="paper-word" key={word}>
            <span class="tick-box" /> {word}
          </span>
        ))}
      </span>
    </div>
  );
}

function OwnWords({ words }: { words: readonly string[] }) {
  return (
    <div class="mark">
      {words.length > 0 && <Words words={words} />}
      <span class="paper-own" />
    </div>
  );
}

/** A set of a difference test: its cups side by side, one to be ticked. */
export function PaperSet({ codes, question }: { codes: readonly string[]; question: Question }) {
  const compared = question.form === 'duo-trio' || question.form === 'tetrad';
  return (
    <section class="ballot-cup whole-block">
      <h2>
        Cups <span class="code">{codes.join(' · ')}</span>
      </h2>
      <p>{wording(question, codes[0]!)}</p>
      <p class="paper-words">
        {codes.slice(compared ? 1 : 0).map((code) => (
          <span class="paper-word" key={code}>
            <span class="tick-box" /> {code}
          </span>
        ))}
      </p>
    </section>
  );
}

function wording({ form, name }: Question, first: string): string {
  if (form === 'triangle') return 'Two hold the same, one is different. Tick the different one.';
  if (form === 'duo-trio') return `Compare with cup ${first}. Tick the one that holds the same.`;
  if (form === 'tetrad') return `Make two groups of two. Tick the one that goes with cup ${first}.`;
  return `Tick the one that has more of this: ${name}.`;
}

/** All cups with a place to write each one's rank. */
export function PaperRanking({ codes, question }: { codes: readonly string[]; question: Question }) {
  const [least = '', most = ''] = wordsOf(question);
  return (
    <section class="ballot-cup whole-block">
      <h2>{question.name}: put the cups in order</h2>
      <p>
        Write 1 beside “{least}”, {codes.length} beside “{most}”, and the ranks between them; each once.
      </p>
      <p class="paper-words">
        {codes.map((code) => (
          <span class="paper-word" key={code}>
            <span class="rank-box" /> {code}
          </span>
        ))}
      </p>
    </section>
  );
}
