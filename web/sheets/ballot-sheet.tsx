import type { PouringSheet } from '../../trials/schema/api.ts';
import type { Brief } from '../../trials/schema/brief.ts';
import { isPoints, SCALE_ENDS } from '../../trials/schema/scale-form.ts';
import { Sheet, WriteIn } from './sheet.tsx';

type Question = Brief['attributes'][number];
type Tray = PouringSheet['trays'][number];

/** Paper ballots: codes and questions, one taster after another, each from a page of their own. */
export function BallotSheets({ brief, pouring }: { brief: Brief; pouring: PouringSheet }) {
  return (
    <>
      {pouring.trays.map((tray, place) => (
        <Ballot
          key={tray.assessor}
          brief={brief}
          label={pouring.label}
          tray={tray}
          questions={fromPlace(brief.attributes, place)}
        />
      ))}
    </>
  );
}

/** The same questions begun further on for each next seat, as on the phones. */
function fromPlace(questions: readonly Question[], place: number): Question[] {
  const start = place % questions.length;
  return [...questions.slice(start), ...questions.slice(0, start)];
}

interface BallotProps {
  brief: Brief;
  label: string;
  tray: Tray;
  questions: readonly Question[];
}

function Ballot({ brief, label, tray, questions }: BallotProps) {
  const cautions = brief.cautions.filter(({ to }) => to === 'taster');
  const drink = brief.drink?.name || 'a drink';
  return (
    <Sheet title={`Ballot of ${tray.assessor}`} of={label} says={`You are about to taste: ${drink}.`}>
      {cautions.length > 0 && (
        <section class="cautions whole-block">
          <h2>Read this first</h2>
          <ul>
            {cautions.map(({ text }) => (
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
        stroke. Leave a line bare if you cannot say. Rinse with water between cups.
      </p>
      {tray.cups.map((cup) => (
        <Cup key={cup.position} code={cup.code} practice={cup.mix === 'warmup'} questions={questions} />
      ))}
    </Sheet>
  );
}

function Cup({
  code,
  practice,
  questions,
}: {
  code: string;
  practice: boolean;
  questions: readonly Question[];
}) {
  return (
    <section class="ballot-cup whole-block">
      <h2>
        Cup <span class="code">{code}</span>
        {practice && <span class="small"> for practice, not counted</span>}
      </h2>
      {questions.map(({ id, name, scale }) =>
        isPoints(scale) ? (
          <Points key={id} name={name || id} scale={scale} />
        ) : (
          <Line key={id} name={name || id} />
        ),
      )}
    </section>
  );
}

/** A line of exactly 100 mm: the millimetres from its left end are the hundredths of the scale. */
function Line({ name }: { name: string }) {
  return (
    <div class="question">
      <span class="asked">{name}</span>
      <div class="mark">
        <span class="ends">
          <span>{SCALE_ENDS[0]}</span>
          <span>{SCALE_ENDS[1]}</span>
        </span>
        <span class="mark-line" />
      </div>
    </div>
  );
}

function Points({ name, scale: [low, high] }: { name: string; scale: readonly [number, number] }) {
  return (
    <div class="question">
      <span class="asked">{name}</span>
      <div class="mark">
        <span class="ends">
          <span>{SCALE_ENDS[0]}</span>
          <span>{SCALE_ENDS[1]}</span>
        </span>
        <span class="points">
          {Array.from({ length: high - low + 1 }, (_, step) => (
            <span class="point" key={step}>
              {low + step}
            </span>
          ))}
        </span>
      </div>
    </div>
  );
}
