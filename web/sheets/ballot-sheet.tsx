import type { PouringSheet } from '../../trials/schema/api.ts';
import type { Brief } from '../../trials/schema/brief.ts';
import { fromPlace } from './paper-order.ts';
import { PaperQuestion, PaperRanking, PaperSet } from './paper-questions.tsx';
import { Sheet, WriteIn } from './sheet.tsx';

type Question = PouringSheet['questions'][number];
type Tray = PouringSheet['trays'][number];

/** Paper ballots: codes and questions, one taster after another, each from a page of their own. */
export function BallotSheets({ brief, pouring }: { brief: Brief; pouring: PouringSheet }) {
  return (
    <>
      {pouring.trays.map((tray, place) => (
        <Ballot
          key={tray.assessor}
          brief={brief}
          cautions={pouring.cautions}
          label={pouring.label}
          tray={tray}
          questions={fromPlace(pouring.questions, place)}
        />
      ))}
    </>
  );
}

interface BallotProps {
  brief: Brief;
  cautions: readonly string[];
  label: string;
  tray: Tray;
  questions: readonly Question[];
}

function Ballot({ brief, cautions, label, tray, questions }: BallotProps) {
  const drink = brief.drink?.name || 'a drink';
  return (
    <Sheet title={`Ballot of ${tray.assessor}`} of={label} says={`You are about to taste: ${drink}.`}>
      {cautions.length > 0 && (
        <section class="cautions whole-block">
          <h2>Read this first</h2>
          <ul>
            {cautions.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
          <p>
            If any of this concerns you, or you are unsure, do not taste and tell the person who pours. You
            need not say why.
          </p>
        </section>
      )}
      <p class="paper-fields">
        <span class="tick-box" /> I may taste <WriteIn what="date" />
      </p>
      <p>
        Take the cups from left to right. Check the number, taste, then cross each line with one upright
        stroke, or ring a word. Leave bare what you cannot say. Rinse with water between cups.
      </p>
      <Cups tray={tray} questions={questions} />
    </Sheet>
  );
}

/** Cups one by one, or the sets of a difference test, then what is asked about all of them. */
function Cups({ tray, questions }: Pick<BallotProps, 'tray' | 'questions'>) {
  const parts = [...new Set(tray.cups.map(({ part }) => part))];
  const counted = tray.cups.filter(({ mix }) => mix !== 'warmup').map(({ code }) => code);
  const each = questions.filter(({ form }) => form !== 'ranking');
  return (
    <>
      {parts.map((part) => {
        const cups = tray.cups.filter((cup) => cup.part === part);
        const [first] = cups as [Tray['cups'][number]];
        if (cups.length > 1)
          return <PaperSet key={part} codes={cups.map(({ code }) => code)} question={each[0]!} />;
        const practice = first.mix === 'warmup';
        return <Cup key={part} code={first.code} practice={practice} questions={each} />;
      })}
      {questions
        .filter(({ form }) => form === 'ranking')
        .map((question) => (
          <PaperRanking key={question.id} codes={counted} question={question} />
        ))}
    </>
  );
}

interface CupProps {
  code: string;
  practice: boolean;
  questions: readonly Question[];
}

function Cup({ code, practice, questions }: CupProps) {
  return (
    <section class="ballot-cup whole-block">
      <h2>
        Cup <span class="code">{code}</span>
        {practice && <span class="small"> for practice, not counted</span>}
      </h2>
      {questions.map((question) => (
        <PaperQuestion key={question.id} question={question} />
      ))}
    </section>
  );
}
