import { WARMUP } from '../../engine/panel/observations.ts';
import type { BallotView } from '../schema/ballot.ts';
import { isPoints, SCALE_ENDS } from '../schema/scale-form.ts';
import type { Question, Rests, SeatKey } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { consentWords } from './consent.ts';
import { findSeat, findSitting, findTrial } from './find.ts';

/**
 * What a taster's phone is told: codes and questions. Nothing in it depends on what is in the cups.
 * @param addresses other addresses at which the same workbench may be reached
 */
export function ballotView(store: Store, key: SeatKey, addresses: readonly string[]): BallotView {
  const { trial, sitting, assessor } = key;
  const record = findSitting(store, trial, sitting);
  const { brief } = findTrial(store, trial).latest;
  const { place } = findSeat(store, key);
  const consented = store.answers.consents(trial, sitting);
  const words = consentWords(brief);
  const given = consented.some((one) => one.assessor === assessor && one.version === words.version);
  return {
    sitting: record.label,
    taster: assessor,
    drink: brief.drink?.name || 'a drink',
    state: record.state === 'poured' ? 'waiting' : record.state,
    consent: { ...words, given },
    questions: rotated(record.questions, place).map(questionView),
    cups: cupViews(store, key, record.rests),
    answers: store.answers
      .counted(trial, sitting, true)
      .filter((answer) => answer.assessor === assessor)
      .map(({ code, question, value }) => ({ code, question, value })),
    addresses: [...addresses],
  };
}

/** The same questions, begun further on for each next seat: the order is constant for one taster. */
function rotated(questions: readonly Question[], place: number): Question[] {
  const start = place % questions.length;
  return [...questions.slice(start), ...questions.slice(0, start)];
}

function questionView({ id, name, scale }: Question): BallotView['questions'][number] {
  return {
    id,
    name,
    scale: [...scale],
    ends: [...SCALE_ENDS],
    form: isPoints(scale) ? 'points' : 'line',
  };
}

function cupViews(store: Store, key: SeatKey, rests: Rests): BallotView['cups'] {
  let tasted = 0;
  return store.sittings.cupsOf(key).map(({ position, code, mix }) => {
    const warmup = mix === WARMUP;
    const long = tasted > 0 && tasted % 4 === 0;
    const restSeconds = position === 1 ? 0 : long ? rests.afterFour : rests.betweenCups;
    if (!warmup) tasted++;
    return { position, code, warmup, restSeconds };
  });
}
