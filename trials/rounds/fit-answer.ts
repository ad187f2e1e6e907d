import { WARMUP } from '../../engine/panel/observations.ts';
import type { AnswerMessage, AnswerValue } from '../schema/ballot.ts';
import { formOf, TEST_FORMS, takesWhole } from '../schema/scale-form.ts';
import type { CupRecord, Question } from '../store/records.ts';
import { type Part, partsOf } from './cup-parts.ts';

type Asked = Pick<AnswerMessage, 'code' | 'question' | 'value'>;

/** What a taster's answers are held against. */
export interface Tray {
  questions: readonly Question[];
  cups: readonly CupRecord[];
}

/** Why an answer can never be stored, in words; null where it can. */
export function whyUnfit({ questions, cups }: Tray, { code, question: id, value }: Asked): string | null {
  if (!cups.some((cup) => cup.code === code)) return `no cup of yours is marked ${code}`;
  const question = questions.find((one) => one.id === id);
  if (!question) return 'this question was not asked';
  if (value === null) return null;
  const form = formOf(question);
  if (form === 'describe') return typeof value === 'string' ? null : 'this question takes words';
  if (typeof value === 'string') return 'this question takes a mark, not words';
  if (form === 'ranking') return offRanking(cups, code, value);
  if (TEST_FORMS.some((test) => test === form))
    return offSet(partsOf(cups).find((part) => part.cups.some((cup) => cup.code === code))!, code, {
      form,
      value,
    });
  return offScale(question, value);
}

function offScale(question: Question, value: number): string | null {
  const [low, high] = question.scale;
  if (!(value >= low && value <= high)) return `the scale runs from ${low} to ${high}`;
  return takesWhole(question) && !Number.isInteger(value) ? 'this question takes whole numbers' : null;
}

function offRanking(cups: readonly CupRecord[], code: string, value: number): string | null {
  const ranked = cups.filter(({ mix }) => mix !== WARMUP);
  if (!ranked.some((cup) => cup.code === code)) return 'the practice cup has no rank';
  const fits = Number.isInteger(value) && value >= 1 && value <= ranked.length;
  return fits ? null : `ranks run from 1 to ${ranked.length}`;
}

/** A set is answered once, under the code of its first cup, with the code of the cup that is named. */
function offSet({ cups }: Part, code: string, given: { form: string; value: number }): string | null {
  if (cups[0]!.code !== code) return `this set is answered under its first cup, ${cups[0]!.code}`;
  const marked = given.form === 'duo-trio' || given.form === 'tetrad';
  const open = cups.slice(marked ? 1 : 0).map((cup) => cup.code);
  return open.includes(String(given.value)) ? null : `one of ${open.join(', ')} is to be named`;
}

/** A mark as a number; words and blanks are none. */
export function markOf(value: AnswerValue): number | null {
  return typeof value === 'number' ? value : null;
}
