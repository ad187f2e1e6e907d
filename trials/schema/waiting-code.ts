import type { AnswerMessage, AnswerValue } from './ballot.ts';

/** Answers that wait on a phone, as a code that a person can carry: for a square code, or to be typed. */
export interface WaitingAnswers {
  /** `sitting.place`, as the ballot was told. */
  seat: string;
  phone: string;
  /** Part `part` of `parts` codes. */
  part: number;
  parts: number;
  answers: { count: number; code: string; question: string; value: AnswerValue }[];
}

const MARK = 'DROP1';
/** Signs of answers in one code: a square of so many is read by any camera. */
const MOST_SIGNS = 500;
const SIGNS = 36 ** 4;

/** The id that a phone gives to its answer of this count: an answer read in by code is known again when it is sent. */
export function messageIdOf(phone: string, count: number): string {
  return phone.slice(0, 24) + count.toString(16).padStart(8, '0');
}

/**
 * The waiting answers as codes of capitals, digits and a few signs (the alphabet that square codes pack best), each
 * with its own check sign group, so that a slip in typing is noticed.
 * @param questions ids of all questions of the ballot, in any order
 */
export function writeCodes(
  seat: string,
  queue: readonly AnswerMessage[],
  questions: readonly string[],
): string[] {
  const order = [...questions].sort();
  const items = queue.map(({ count, code, question, value }) => {
    const place = order.indexOf(question).toString(36);
    return [count.toString(36), code, place, valueText(value)].join('.').toUpperCase();
  });
  const parts = inParts(items);
  return parts.map((part, p) => {
    const head = [MARK, seat, queue[0]!.phone, `${p + 1}/${parts.length}`].join(':').toUpperCase();
    const body = `${head}:${part.join('/')}`;
    return `${body}:${checkSigns(body)}`;
  });
}

/** Items in order, as many to a part as its signs allow. */
function inParts(items: readonly string[]): string[][] {
  const parts: string[][] = [];
  let signs = MOST_SIGNS;
  for (const item of items) {
    if (signs + item.length > MOST_SIGNS) parts.push([]);
    signs = signs + item.length > MOST_SIGNS ? item.length : signs + item.length;
    parts.at(-1)!.push(item);
  }
  return parts;
}

/**
 * What a code says, or in words why it says nothing. Small letters and blanks from copying are forgiven.
 * @param questions ids of all questions of the sitting that the code's seat belongs to, in any order
 */
export function readCode(
  text: string,
  questionsOf: (seat: string) => readonly string[],
): WaitingAnswers | string {
  const clean = text.replace(/\s+/g, '').toUpperCase();
  const [mark, seat = '', phone = '', part = '', items = '', check, ...more] = clean.split(':');
  if (mark !== MARK || check === undefined || more.length > 0) return 'this is not a code from a ballot';
  if (checkSigns(clean.slice(0, clean.lastIndexOf(':'))) !== check)
    return 'a sign is wrong or missing: read the code again';
  const order = [...questionsOf(seat.toLowerCase())].sort();
  const answers = items.split('/').map((item) => itemOf(item, order));
  const [one, all] = part.split('/').map(Number);
  const whole = answers.filter((answer) => answer !== null);
  if (whole.length < answers.length || !/^[0-9A-F]{32}$/.test(phone) || !one || !all)
    return 'this code does not fit this sitting';
  return { seat: seat.toLowerCase(), phone: phone.toLowerCase(), part: one, parts: all, answers: whole };
}

function itemOf(item: string, order: readonly string[]): WaitingAnswers['answers'][number] | null {
  const found = /^([0-9A-Z]{1,6})\.([0-9]{3})\.([0-9A-Z]{1,2})\.(.*)$/.exec(item);
  if (!found) return null;
  const [, count = '', code = '', place = '', text = ''] = found;
  const question = order[Number.parseInt(place, 36)];
  const value = valueFrom(text);
  if (question === undefined || value === undefined) return null;
  return { count: Number.parseInt(count, 36), code, question, value };
}

function valueText(value: AnswerValue): string {
  if (value === null) return '*';
  if (typeof value === 'number') return String(value);
  const bytes = [...new TextEncoder().encode(value)];
  return `+${bytes.map((byte) => byte.toString(16).padStart(2, '0')).join('')}`;
}

function valueFrom(text: string): AnswerValue | undefined {
  if (text === '*') return null;
  if (!text.startsWith('+')) return /^-?[0-9.]+(E-?[0-9]+)?$/.test(text) ? Number(text) : undefined;
  const pairs = text.slice(1).match(/[0-9A-F]{2}/g) ?? [];
  return new TextDecoder().decode(Uint8Array.from(pairs, (pair) => Number.parseInt(pair, 16)));
}

/** Four signs from all signs before them, their order included. */
function checkSigns(text: string): string {
  let sum = 7;
  for (const sign of text) sum = (sum * 131 + sign.charCodeAt(0)) % SIGNS;
  return sum.toString(36).padStart(4, '0').toUpperCase();
}
