import { WARMUP } from '../../engine/panel/observations.ts';
import type { BallotView } from '../schema/ballot.ts';
import { formOf } from '../schema/scale-form.ts';
import type { Question, Rests, SeatKey } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { consentWords } from './consent.ts';
import { isRanking, partsOf } from './cup-parts.ts';
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
    seat: `${sitting}.${place}`,
    drink: brief.drink?.name || 'a drink',
    state: record.state === 'poured' ? 'waiting' : record.state,
    consent: { ...words, given },
    questions: rotated(record.questions, place).map(questionView),
    goBack: record.manner.goBack ?? false,
    cups: cupViews(store, key, record.rests),
    answers: store.answers
      .countedOf(key, true)
      .map(({ code, question, value }) => ({ code, question, value })),
    addresses: [...addresses],
  };
}

/**
 * The same scales, begun further on for each next seat: the order is constant for one taster. Descriptions and
 * rankings stay behind them.
 */
function rotated(questions: readonly Question[], place: number): Question[] {
  const scales = questions.filter((one) => one.form !== 'describe' && !isRanking(one));
  const start = place % Math.max(1, scales.length);
  const asides = questions.filter((one) => !scales.includes(one));
  return [...scales.slice(start), ...scales.slice(0, start), ...asides];
}

function questionView(question: Question): BallotView['questions'][number] {
  const { id, name, scale, words = [] } = question;
  return { id, name, scale: [...scale], form: formOf(question), words: [...words] };
}

/** Cups with the rest before each: none inside a set, a long one after every fourth cup that counts. */
function cupViews(store: Store, key: SeatKey, rests: Rests): BallotView['cups'] {
  let tasted = 0;
  let sinceLong = 0;
  return partsOf(store.sittings.cupsOf(key)).flatMap(({ part, cups }) => {
    const long = sinceLong > 0 && sinceLong >= CUPS_BEFORE_A_LONG_REST;
    const before = tasted === 0 ? 0 : long ? rests.afterFour : rests.betweenCups;
    if (long) sinceLong = 0;
    tasted += cups.length;
    sinceLong += cups.filter(({ mix }) => mix !== WARMUP).length;
    return cups.map(({ position, code, mix }, i) => {
      const warmup = mix === WARMUP;
      return { position, code, part, warmup, restSeconds: i === 0 ? before : 0 };
    });
  });
}

/** Noses dull after four cups. Common practice, no published source. */
const CUPS_BEFORE_A_LONG_REST = 4;
