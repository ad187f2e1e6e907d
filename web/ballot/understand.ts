import type { AnswerReceipt, BallotView } from '../../trials/schema/ballot.ts';

/**
 * Whether what came is what the workbench sends: a page between the phone and it (a hotel's, a café's) answers
 * otherwise. Written out by hand because the schema library would be a quarter of all that a phone loads; a test holds
 * it against the schema.
 */
type Check = (value: unknown) => boolean;

const isText: Check = (value) => typeof value === 'string';
const isNumber: Check = (value) => typeof value === 'number' && Number.isFinite(value);
const isFlag: Check = (value) => typeof value === 'boolean';
const isValue: Check = (value) => value === null || isText(value) || isNumber(value);
const isOneOf =
  (...words: string[]): Check =>
  (value) =>
    words.includes(value as string);
const isList =
  (check: Check): Check =>
  (value) =>
    Array.isArray(value) && value.every(check);
const isRecord =
  (checks: Record<string, Check>): Check =>
  (value) =>
    typeof value === 'object' &&
    value !== null &&
    Object.entries(checks).every(([key, check]) => check((value as Record<string, unknown>)[key]));

const ballot = isRecord({
  sitting: isText,
  taster: isText,
  seat: isText,
  drink: isText,
  state: isOneOf('waiting', 'open', 'closed'),
  consent: isRecord({ version: isText, cautions: isList(isText), given: isFlag }),
  questions: isList(
    isRecord({
      id: isText,
      name: isText,
      scale: (value) => isList(isNumber)(value) && (value as unknown[]).length === 2,
      form: isText,
      words: isList(isText),
    }),
  ),
  goBack: isFlag,
  cups: isList(
    isRecord({ position: isNumber, code: isText, part: isNumber, warmup: isFlag, restSeconds: isNumber }),
  ),
  answers: isList(isRecord({ code: isText, question: isText, value: isValue })),
  addresses: isList(isText),
});

const receipt = isRecord({
  stored: isList(isText),
  refused: isList(isRecord({ id: isText, because: isText })),
  late: isFlag,
});

export function isBallot(value: unknown): value is BallotView {
  return ballot(value);
}

export function isReceipt(value: unknown): value is AnswerReceipt {
  return receipt(value);
}

/** The words of a refusal; empty where there are none. */
export function refusalOf(body: unknown): string {
  const error = (body as { error?: { message?: unknown } } | null)?.error;
  return typeof error?.message === 'string' ? error.message : '';
}
