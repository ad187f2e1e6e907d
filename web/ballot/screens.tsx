import { useEffect, useRef, useState } from 'preact/hooks';
import type { BallotView } from '../../trials/schema/ballot.ts';
import { unanswered } from './journey.ts';
import { QuestionBlock } from './scale.tsx';
import {
  chooseLanguage,
  consent,
  durable,
  kept,
  language,
  late,
  nextCup,
  place,
  reachable,
  refused,
  say,
  trouble,
} from './session.ts';
import { LANGUAGES } from './words.ts';

/** The page: one screen at a time, and beneath it where the answers are. */
export function Ballot() {
  const ballot = kept.value.ballot;
  if (trouble.value) return <Notice text={say(trouble.value)} />;
  if (!ballot) return <Notice text={say(reachable.value ? 'loading' : 'unreachable')} />;
  return (
    <>
      <main>{screenFor(ballot)}</main>
      <Whereabouts />
    </>
  );
}

function screenFor(ballot: BallotView) {
  const here = place.value;
  if (here.at === 'consent') return <Consent ballot={ballot} />;
  if (here.at === 'end') return <End />;
  if (ballot.state === 'waiting') return <Notice text={say('waitOpening')} />;
  if (here.at === 'rest') return <Rest seconds={here.seconds} />;
  return <Cup key={here.cup} ballot={ballot} cup={here.cup} />;
}

function Notice({ text }: { text: string }) {
  return (
    <p class="notice" role="status">
      {text}
    </p>
  );
}

function Consent({ ballot }: { ballot: BallotView }) {
  return (
    <section class="consent">
      <LanguageChoice />
      <h1>{say('hello', { taster: ballot.taster })}</h1>
      <p>{say('aboutToTaste', { drink: ballot.drink })}</p>
      <h2>{say('readFirst')}</h2>
      <ul class="cautions">
        {ballot.consent.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <p>{say('doNotTaste')}</p>
      <p>{say('swallow')}</p>
      {!durable.value && <p class="warning">{say('refusedStorage')}</p>}
      <button type="button" class="main" onClick={() => void consent()}>
        {say('mayTaste')}
      </button>
    </section>
  );
}

function LanguageChoice() {
  return (
    <label class="language">
      <span>{say('language')}</span>
      <select value={language.value} onChange={(e) => chooseLanguage(e.currentTarget.value)}>
        {LANGUAGES.map(([tag, name]) => (
          <option key={tag} value={tag} lang={tag}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}

function Cup({ ballot, cup }: { ballot: BallotView; cup: number }) {
  const { code, warmup } = ballot.cups[cup]!;
  const [inHand, setInHand] = useState(unanswered(kept.value, ballot, cup) < ballot.questions.length);
  const title = warmup ? say('practice') : say('cupOf', cupCount(ballot, cup));
  if (!inHand) return <TakeCup code={code} title={title} warmup={warmup} onTaken={() => setInHand(true)} />;
  const open = unanswered(kept.value, ballot, cup);
  return (
    <section class="cup">
      <Heading text={title} code={code} />
      {ballot.questions.map((question) => (
        <QuestionBlock key={question.id} code={code} question={question} />
      ))}
      <p class="hint" id="leave-hint">
        {open > 0 ? say('unanswered', { count: open }) : say('confirmLeave')}
      </p>
      <button type="button" class="main" disabled={open > 0} aria-describedby="leave-hint" onClick={nextCup}>
        {say('nextCup')}
      </button>
    </section>
  );
}

function cupCount(ballot: BallotView, cup: number): { position: number; cups: number } {
  const practice = ballot.cups.filter((c) => c.warmup).length;
  return { position: cup + 1 - practice, cups: ballot.cups.length - practice };
}

interface TakeCupProps {
  code: string;
  title: string;
  warmup: boolean;
  onTaken: () => void;
}

function TakeCup({ code, title, warmup, onTaken }: TakeCupProps) {
  return (
    <section class="take">
      <Heading text={title} />
      {warmup && <p>{say('practiceSays')}</p>}
      <p>{say('takeCode')}</p>
      <p class="code">{code}</p>
      <p>{say('checkCode')}</p>
      <button type="button" class="main" onClick={onTaken}>
        {say('haveIt', { code })}
      </button>
    </section>
  );
}

/** The heading takes the focus when a screen opens, so that a screen reader starts there. */
function Heading({ text, code }: { text: string; code?: string }) {
  const ref = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    ref.current?.focus({ preventScroll: true });
    scrollTo(0, 0);
  }, []);
  return (
    <h1 ref={ref} tabIndex={-1}>
      {text}
      {code && <span class="small-code">{code}</span>}
    </h1>
  );
}

function Rest({ seconds }: { seconds: number }) {
  return (
    <section class="rest">
      <Heading text={say('rest')} />
      <p>{say('restSays')}</p>
      <p class="code" role="timer">
        {say('seconds', { count: seconds })}
      </p>
    </section>
  );
}

function End() {
  const waiting = kept.value.queue.length;
  return (
    <section class="end">
      <Heading text={say('done')} />
      <p role="status">{waiting === 0 ? say('allSent') : say('waitToLeave')}</p>
    </section>
  );
}

function Whereabouts() {
  const waiting = kept.value.queue.length;
  return (
    <footer>
      <div role="status" class={waiting > 0 ? 'waiting' : ''}>
        <span>{waiting > 0 ? say('waiting', { count: waiting }) : say('sent')}</span>
        {!reachable.value && <span>{say('unreachable')}</span>}
        {!durable.value && <span>{say('refusedStorage')}</span>}
        {late.value && <span>{say('late')}</span>}
        {refused.value && <span>{say('refused', refused.value)}</span>}
        {kept.value.ballot?.state === 'closed' && <span>{say('closed')}</span>}
      </div>
    </footer>
  );
}
