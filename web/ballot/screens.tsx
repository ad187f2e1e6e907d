import { useState } from 'preact/hooks';
import type { BallotView } from '../../trials/schema/ballot.ts';
import { Choose } from './choose.tsx';
import { Heading } from './heading.tsx';
import { type Step, stepsOf, unanswered } from './journey.ts';
import { QuestionBlock } from './question.tsx';
import { Ranking } from './ranking.tsx';
import {
  chooseLanguage,
  consent,
  durable,
  goBack,
  kept,
  language,
  late,
  nextStep,
  place,
  reachable,
  refused,
  say,
  takeInHand,
  trouble,
} from './session.ts';
import { WaitingCodes } from './waiting.tsx';
import { LANGUAGES } from './words.ts';

/** The page: one screen at a time, and beneath it where the answers are. */
export function Ballot() {
  const ballot = kept.value.ballot;
  const [carrying, setCarrying] = useState(false);
  if (trouble.value) return <Notice text={say(trouble.value)} />;
  if (!ballot) return <Notice text={say(reachable.value ? 'loading' : 'unreachable')} />;
  return (
    <>
      <main>{carrying ? <WaitingCodes close={() => setCarrying(false)} /> : screenFor(ballot)}</main>
      <Whereabouts carry={carrying ? null : () => setCarrying(true)} />
    </>
  );
}

function screenFor(ballot: BallotView) {
  const here = place.value;
  if (here.at === 'consent') return <Consent ballot={ballot} />;
  if (here.at === 'end') return <End />;
  if (ballot.state === 'waiting') return <Notice text={say('waitOpening')} />;
  if (here.at === 'rest') return <Rest seconds={here.seconds} />;
  const step = stepsOf(ballot)[here.step]!;
  if (here.at === 'ranking') return <Ranking key={here.step} step={step} />;
  return <Cup key={here.step} ballot={ballot} at={here.step} step={step} />;
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
      {!isSecureContext && <p class="soft">{say('plainHttp')}</p>}
      <button type="button" class="main" onClick={consent}>
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

interface CupProps {
  ballot: BallotView;
  /** Which step of the ballot, from 0. */
  at: number;
  step: Step;
}

function Cup({ ballot, at, step }: CupProps) {
  const open = unanswered(kept.value, step);
  const [inHand, setInHand] = useState(open < step.questions.length);
  const take = () => {
    takeInHand(at);
    setInHand(true);
  };
  if (!inHand) return <TakeCup ballot={ballot} at={at} step={step} onTaken={take} />;
  const leave = say(ballot.goBack ? 'mayGoBack' : 'confirmLeave');
  const [first] = step.cups as [BallotView['cups'][number]];
  const isSet = step.cups.length > 1;
  return (
    <section class="cup">
      <Heading text={titleOf(ballot, at, step)} code={isSet ? undefined : first.code} />
      {step.questions.map((question) =>
        isSet ? (
          <Choose key={question.id} step={step} question={question} />
        ) : (
          <QuestionBlock key={question.id} code={first.code} question={question} />
        ),
      )}
      <p class="hint" id="leave-hint">
        {open > 0 ? say('unanswered', { count: open }) : leave}
      </p>
      <button type="button" class="main" disabled={open > 0} aria-describedby="leave-hint" onClick={nextStep}>
        {say(isSet ? 'nextStep' : 'nextCup')}
      </button>
      <GoBack ballot={ballot} at={at} />
    </section>
  );
}

function GoBack({ ballot, at }: { ballot: BallotView; at: number }) {
  if (!ballot.goBack || at === 0) return null;
  return (
    <button type="button" onClick={goBack}>
      {say('back')}
    </button>
  );
}

function titleOf(ballot: BallotView, at: number, step: Step): string {
  if (step.cups[0]!.warmup) return say('practice');
  const steps = stepsOf(ballot).filter(({ kind }) => kind === 'cup');
  const practice = steps.filter(({ cups }) => cups[0]!.warmup).length;
  const count = { position: at + 1 - practice, cups: steps.length - practice };
  return say(step.cups.length > 1 ? 'setOf' : 'cupOf', count);
}

function TakeCup({ ballot, at, step, onTaken }: CupProps & { onTaken: () => void }) {
  const codes = step.cups.map(({ code }) => code);
  const [code = ''] = codes;
  const isSet = codes.length > 1;
  return (
    <section class="take">
      <Heading text={titleOf(ballot, at, step)} />
      {step.cups[0]!.warmup && <p>{say('practiceSays')}</p>}
      <p>{say(isSet ? 'takeCodes' : 'takeCode')}</p>
      <p class={isSet ? 'code set' : 'code'}>
        {codes.map((one) => (
          <span key={one}>{one}</span>
        ))}
      </p>
      <p>{say(isSet ? 'checkCodes' : 'checkCode')}</p>
      <button type="button" class="main" onClick={onTaken}>
        {isSet ? say('haveThem') : say('haveIt', { code })}
      </button>
      <GoBack ballot={ballot} at={at} />
    </section>
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

function Whereabouts({ carry }: { carry: (() => void) | null }) {
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
      {carry !== null && waiting > 0 && !reachable.value && (
        <button type="button" onClick={carry}>
          {say('showCode')}
        </button>
      )}
    </footer>
  );
}
