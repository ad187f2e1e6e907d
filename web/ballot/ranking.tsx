import { Heading } from './heading.tsx';
import { type Step, unanswered } from './journey.ts';
import { cannotRank, kept, nextStep, rank, ranksIn, say } from './session.ts';

/** All cups put in order by tapping them one after the other; a second tap takes one out. */
export function Ranking({ step }: { step: Step }) {
  const [question] = step.questions as [Step['questions'][number]];
  const codes = step.cups.map(({ code }) => code);
  const ranks = ranksIn(question.id, codes);
  const [least = say('least'), most = say('most')] = question.words;
  const blank = ranks.size === 0 && unanswered(kept.value, step) === 0;
  const done = blank || ranks.size === codes.length;
  return (
    <section class="ranking">
      <Heading text={say('rankTitle')} />
      <p id="rank-says">{say('rankSays', { name: question.name, least, most })}</p>
      <fieldset class="ranks" aria-describedby="rank-says">
        <legend class="unseen">{question.name}</legend>
        {codes.map((code) => {
          const place = ranks.get(code);
          const label = place === undefined ? say('rankOpen', { code }) : say('rankPlace', { code, place });
          return (
            <button
              key={code}
              type="button"
              aria-pressed={place !== undefined}
              aria-label={label}
              onClick={() => rank(question.id, codes, code)}
            >
              <span class="place">{place ?? ''}</span>
              <span class="small-code">{code}</span>
            </button>
          );
        })}
      </fieldset>
      <p class="hint" role="status">
        {done ? say('rankAgain') : say('unanswered', { count: codes.length - ranks.size })}
      </p>
      <button type="button" class="blank" aria-pressed={blank} onClick={() => cannotRank(question.id, codes)}>
        {say('cannotSay')}
      </button>
      <button type="button" class="main" disabled={!done} onClick={nextStep}>
        {say('nextStep')}
      </button>
    </section>
  );
}
