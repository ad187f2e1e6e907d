/** Forms of a question about one cup; their answers are numbers on the question's scale. */
export const SCALE_FORMS = ['line', 'points', 'categories', 'liking', 'just-about-right'] as const;
export type ScaleForm = (typeof SCALE_FORMS)[number];

/** Forms of what is asked beside the scales: all cups put in order once, or words for each cup. */
export const ASIDE_FORMS = ['ranking', 'describe'] as const;

/** Tests of whether two drinks can be told apart; a set of cups is answered by naming one of them. */
export const TEST_FORMS = ['triangle', 'duo-trio', 'tetrad', 'two-afc', 'three-afc'] as const;
export type TestForm = (typeof TEST_FORMS)[number];

export const QUESTION_FORMS = [...SCALE_FORMS, ...ASIDE_FORMS, ...TEST_FORMS] as const;
export type QuestionForm = (typeof QUESTION_FORMS)[number];

/** The longest scale of whole numbers that is shown as points to tap or tick. */
const MOST_POINTS = 11;

/** Words at the two ends of a scale, on paper; the ballot page has them in its own languages. */
export const SCALE_ENDS: readonly [string, string] = ['not at all', 'very much'];

/** Nine words of liking, best first on no side: from the least to the most (Peryam and Pilgrim 1957). */
export const LIKING_WORDS: readonly string[] = [
  'dislike extremely',
  'dislike very much',
  'dislike moderately',
  'dislike slightly',
  'neither like nor dislike',
  'like slightly',
  'like moderately',
  'like very much',
  'like extremely',
];

/** Five words about the right amount of something, the right one in the middle. */
export const RIGHT_WORDS: readonly string[] = [
  'much too little',
  'too little',
  'just about right',
  'too much',
  'much too much',
];

interface Asked {
  scale: readonly [number, number];
  form?: QuestionForm | undefined;
}

/** The form a question is asked in; where none is chosen, short scales of whole numbers are points, others a line. */
export function formOf({ scale, form }: Asked): QuestionForm {
  return form ?? (isWhole(scale) && stepsOf(scale) <= MOST_POINTS ? 'points' : 'line');
}

/** Whether answers are whole numbers only. */
export function takesWhole(asked: Asked): boolean {
  return formOf(asked) !== 'line';
}

/** How many whole numbers a scale has, both ends counted. */
export function stepsOf([low, high]: readonly [number, number]): number {
  return Math.round(high - low) + 1;
}

/** Whether a scale runs from one whole number up to another. */
export function isWhole([low, high]: readonly [number, number]): boolean {
  return Number.isInteger(low) && Number.isInteger(high) && high > low;
}

/** Words of a scale as printed: the question's own, else those its form has. */
export function wordsOf(asked: Asked & { words?: readonly string[] | undefined }): readonly string[] {
  if (asked.words && asked.words.length > 0) return asked.words;
  const form = formOf(asked);
  if (form === 'liking') return LIKING_WORDS;
  return form === 'just-about-right' ? RIGHT_WORDS : SCALE_ENDS;
}
