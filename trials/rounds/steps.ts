import type { RoundView, SittingSummary, StepName } from '../schema/api.ts';
import { counted, listed, spanOf } from './words.ts';

/** What the steps of a round are judged by. */
export interface RoundFacts {
  mixes: number;
  bottles: readonly string[];
  weighedBottles: ReadonlySet<string>;
  /** Hours since the youngest bottle of the round was weighed; null where none is new or not all are weighed. */
  youngestHours: number | null;
  restHours: number;
  marks: Readonly<Record<'rest' | 'dose' | 'pour', boolean>>;
  /** Doses in mL per litre, smallest and largest; null where the brief has none. */
  doses: readonly [number, number] | null;
  sittings: readonly SittingSummary[];
  /** A reading that holds this round's scores. */
  read: boolean;
}

type Steps = RoundView['steps'];

interface Judged {
  step: StepName;
  done: boolean;
  says: string;
}

/**
 * The steps of a round with a sentence each. A step is done when it is done itself or a later one has been begun:
 * who pours has dosed. The first that is not done is `now`.
 */
export function stepsOf(facts: RoundFacts): Steps {
  const judged = [
    plan(facts),
    weigh(facts),
    rest(facts),
    dose(facts),
    pour(facts),
    taste(facts),
    read(facts),
  ];
  const last = judged.map(({ done }) => done).lastIndexOf(true);
  const now = last + 1;
  return judged.map(({ step, says }, i) => ({
    step,
    state: i < now ? 'done' : i === now ? 'now' : 'waiting',
    says,
  }));
}

function plan({ mixes, bottles }: RoundFacts): Judged {
  const from = bottles.length === 0 ? 'bottles that stand ready' : counted(bottles.length, 'new bottle');
  return { step: 'plan', done: true, says: `${counted(mixes, 'mix', 'mixes')} from ${from}.` };
}

function weigh({ bottles, weighedBottles }: RoundFacts): Judged {
  const left = bottles.filter((bottle) => !weighedBottles.has(bottle));
  const done = left.length === 0;
  if (bottles.length === 0)
    return { step: 'weigh', done, says: 'Nothing to weigh: earlier bottles are poured again.' };
  if (done) return { step: 'weigh', done, says: `${counted(bottles.length, 'bottle')} weighed.` };
  const next = `Next: ${left[0]}.`;
  return {
    step: 'weigh',
    done,
    says: `${bottles.length - left.length} of ${bottles.length} bottles weighed. ${next}`,
  };
}

function rest({ restHours, youngestHours, marks, sittings }: RoundFacts): Judged {
  const step = 'rest';
  const early = youngestHours !== null && youngestHours < restHours;
  if (marks.rest && early && !begun(sittings))
    return {
      step,
      done: true,
      says: `Said to have rested; the youngest bottle has had ${spanOf(youngestHours)} of ${spanOf(restHours)}.`,
    };
  if (marks.rest || begun(sittings)) return { step, done: true, says: 'Rested.' };
  if (youngestHours === null)
    return { step, done: false, says: `Let the bottles stand for ${spanOf(restHours)}, all for as long.` };
  if (youngestHours >= restHours)
    return { step, done: true, says: `Rested: the youngest bottle stood for ${spanOf(youngestHours)}.` };
  return {
    step,
    done: false,
    says: `Let stand: the youngest bottle has had ${spanOf(youngestHours)} of ${spanOf(restHours)}.`,
  };
}

function dose({ doses, marks, sittings }: RoundFacts): Judged {
  const step = 'dose';
  const amount =
    doses === null
      ? 'as the brief says'
      : doses[0] === doses[1]
        ? `at ${doses[0]} mL a litre`
        : `at ${doses[0]} to ${doses[1]} mL a litre`;
  const done = marks.dose || begun(sittings);
  return { step, done, says: done ? `Dosed ${amount}.` : `Dose the drinks ${amount}.` };
}

function pour({ sittings, marks }: RoundFacts): Judged {
  const step = 'pour';
  const cups = sittings.reduce((sum, one) => sum + one.cups, 0);
  const drawn = `${counted(sittings.length, 'sitting')} drawn, ${counted(cups, 'cup')}`;
  if (sittings.length === 0)
    return { step, done: false, says: 'Draw a sitting: codes, serving orders and a link for each taster.' };
  const done = marks.pour || begun(sittings);
  return { step, done, says: done ? `${drawn}.` : `${drawn}: pour by the sheet.` };
}

/** Once a sitting is open, its cups have been dosed and poured. */
function begun(sittings: RoundFacts['sittings']): boolean {
  return sittings.some(({ state }) => state !== 'poured');
}

function taste({ sittings }: RoundFacts): Judged {
  const step = 'taste';
  const open = sittings.filter(({ state }) => state === 'open').map(({ label }) => label);
  const answers = sittings.reduce((sum, one) => sum + one.answers, 0);
  const expected = sittings.reduce((sum, one) => sum + one.answersExpected, 0);
  const done = sittings.length > 0 && sittings.every(({ state }) => state === 'closed');
  const count = `${answers} of ${counted(expected, 'answer')}`;
  if (done) return { step, done, says: `Tasted: ${count} in.` };
  if (open.length > 0) return { step, done, says: `${listed(open)} open: ${count} in.` };
  return { step, done, says: 'Open the sitting when the cups stand ready.' };
}

function read({ sittings, read: done }: RoundFacts): Judged {
  const step = 'read';
  const sealed = sittings.filter(({ key }) => key === 'sealed').map(({ label }) => label);
  if (done) return { step, done, says: 'Read.' };
  if (sittings.length === 0) return { step, done, says: 'Nothing tasted yet.' };
  if (sealed.length === 0) return { step, done, says: 'The keys are open: read the scores.' };
  return { step, done, says: `Sealed: ${listed(sealed)}. Open the key once the last ballot is in.` };
}
