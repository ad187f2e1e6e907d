import type { PaperCheck, PouringSheet } from '../../../trials/schema/api.ts';
import { wordsOf } from '../../../trials/schema/scale-form.ts';
import { readNumber } from '../numbers.ts';

type Question = PouringSheet['questions'][number];
export type PaperValue = number | string | null;

/** One mark of a paper ballot, in the order in which it stands on the paper. */
export interface PaperField {
  key: string;
  code: string;
  question: Question;
  /** The cups of a set, of which one is ticked; empty elsewhere. */
  set: readonly string[];
  /** How many cups are ranked; 0 elsewhere. */
  ranked: number;
}

/** What was typed into a field: nothing yet, a mark, or a fault in words. */
export type Typed =
  | { state: 'open' }
  | { state: 'mark'; value: PaperValue }
  | { state: 'fault'; says: string };

/** The fields of one taster's ballot: cup by cup, questions as printed for that seat, rankings last. */
export function paperFields(
  tray: PouringSheet['trays'][number],
  questions: readonly Question[],
): PaperField[] {
  const parts = [...new Set(tray.cups.map(({ part }) => part))];
  const each = questions.filter(({ form }) => form !== 'ranking');
  const counted = tray.cups.filter(({ mix }) => mix !== 'warmup');
  const fieldOf = (
    code: string,
    question: Question,
    more: Pick<PaperField, 'set' | 'ranked'>,
  ): PaperField => ({
    key: `${code} ${question.id}`,
    code,
    question,
    ...more,
  });
  const cups = parts.flatMap((part) => {
    const codes = tray.cups.filter((cup) => cup.part === part).map(({ code }) => code);
    const compared = each[0]?.form === 'duo-trio' || each[0]?.form === 'tetrad';
    const set = codes.length > 1 ? codes.slice(compared ? 1 : 0) : [];
    return each.map((question) => fieldOf(codes[0]!, question, { set, ranked: 0 }));
  });
  const ranks = questions
    .filter(({ form }) => form === 'ranking')
    .flatMap((question) =>
      counted.map(({ code }) => fieldOf(code, question, { set: [], ranked: counted.length })),
    );
  return [...cups, ...ranks];
}

/** Whether one key is a whole mark, so that the next field can take over at once. */
export function isOneKey({ question: { form, scale }, set, ranked }: PaperField): boolean {
  if (set.length > 0) return true;
  if (form === 'line' || form === 'describe') return false;
  return form === 'ranking' ? ranked <= 9 : scale[1] <= 9;
}

/** What the field asks for, in a few words. */
export function fieldHelp({ question, set, ranked }: PaperField): string {
  const { form, scale } = question;
  if (set.length > 0) return `1 to ${set.length}: ${set.map((code, i) => `${i + 1} = ${code}`).join(', ')}`;
  if (form === 'line') return 'millimetres from the left end, 0 to 100';
  if (form === 'describe') return 'their words';
  if (form === 'ranking') return `rank, 1 to ${ranked}`;
  const words = wordsOf(question);
  const ends = form !== 'points' && words.length > 0 ? `: ${words[0]} to ${words.at(-1)}` : '';
  return `${scale[0]} to ${scale[1]}${ends}`;
}

/** Reads what was typed: `-` is a field that the taster left bare. */
export function readTyped(field: PaperField, text: string): Typed {
  const { question, set, ranked } = field;
  const trimmed = text.trim();
  if (trimmed === '') return { state: 'open' };
  if (trimmed === '-') return { state: 'mark', value: null };
  if (question.form === 'describe') return { state: 'mark', value: trimmed.slice(0, 300) };
  const number = readNumber(trimmed);
  const whole = (low: number, high: number): Typed =>
    number !== null && Number.isInteger(number) && number >= low && number <= high
      ? { state: 'mark', value: number }
      : { state: 'fault', says: `a whole number from ${low} to ${high}, or - for none` };
  if (set.length > 0) {
    const picked = whole(1, set.length);
    return picked.state === 'mark' ? { state: 'mark', value: Number(set[Number(picked.value) - 1]) } : picked;
  }
  if (question.form === 'ranking') return whole(1, ranked);
  const [low, high] = question.scale;
  if (question.form !== 'line') return whole(low, high);
  if (number === null || number < 0 || number > 100)
    return { state: 'fault', says: 'millimetres from 0 to 100, or - for none' };
  return { state: 'mark', value: low + ((high - low) * number) / 100 };
}

/** How a stored value looks on paper, for a difference between two entries. */
export function shownOnPaper(
  { question: { form, scale } }: PaperField,
  value: PaperValue | undefined,
): string {
  if (value === undefined) return 'not entered';
  if (value === null) return 'left bare';
  if (typeof value === 'string') return `“${value}”`;
  if (form !== 'line') return String(value);
  return `${Math.round((1000 * (value - scale[0])) / (scale[1] - scale[0])) / 10} mm`;
}

/** The answers of all fields that hold a mark. */
export function answersOf(fields: readonly PaperField[], typed: Readonly<Record<string, string>>) {
  return fields.flatMap((field) => {
    const read = readTyped(field, typed[field.key] ?? '');
    return read.state === 'mark'
      ? [{ code: field.code, question: field.question.id, value: read.value }]
      : [];
  });
}

/** The field that a difference is about. */
export function fieldOf(
  fields: readonly PaperField[],
  { code, question }: PaperCheck['differences'][number],
): PaperField | undefined {
  return fields.find((field) => field.code === code && field.question.id === question);
}
