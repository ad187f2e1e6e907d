import { cochranQ } from '../choices/cochran.ts';
import { mixOrder } from '../cups.ts';
import type { AsideAnswer, AsideQuestion, CheckedWord, WordsReading } from './aside-types.ts';

/** Words that nobody offered are tested from this many uses on. Common practice, no published source. */
const OFTEN = 3;
const APART = 0.05;

/**
 * Reads words for cups: how many tasters used each word for each mix, and Cochran's Q over the tasters who had every
 * mix. Words are parted by commas or semicolons and compared without regard to capitals.
 */
export function readWords({ id, words = [] }: AsideQuestion, answers: readonly AsideAnswer[]): WordsReading {
  const mixes = [...new Set(answers.map(({ mix }) => mix))].sort(mixOrder);
  const tasters = [...new Set(answers.map(({ assessor }) => assessor))];
  const said = new Map<string, Set<string>>();
  for (const { assessor, mix, value } of answers) {
    const key = cellKey(assessor, mix);
    const cell = said.get(key) ?? new Set();
    for (const word of wordsIn(String(value))) cell.add(word);
    said.set(key, cell);
  }
  const full = tasters.filter((assessor) => mixes.every((mix) => said.has(cellKey(assessor, mix))));
  const uses = (word: string, assessor: string, mix: string) =>
    Number(said.get(cellKey(assessor, mix))?.has(word) ?? false);
  const read = wordsOf(words, said).map((word) =>
    checked(
      word,
      mixes.map((mix) => tasters.reduce((sum, assessor) => sum + uses(word, assessor, mix), 0)),
      full.map((assessor) => mixes.map((mix) => uses(word, assessor, mix))),
    ),
  );
  const left = tasters.length - full.length;
  return {
    id,
    form: 'describe',
    mixes,
    complete: full.length,
    words: read,
    says: sayWords(read),
    warnings:
      left > 0
        ? [`${left} of ${tasters.length} tasters did not have every mix: the tests leave them out`]
        : [],
  };
}

function cellKey(assessor: string, mix: string): string {
  return JSON.stringify([assessor, mix]);
}

function wordsIn(text: string): string[] {
  return text
    .split(/[,;]/)
    .map((word) => word.trim().toLowerCase())
    .filter((word) => word !== '');
}

function wordsOf(offered: readonly string[], said: ReadonlyMap<string, ReadonlySet<string>>): string[] {
  const known = [...new Set(offered.map((word) => word.trim().toLowerCase()))];
  const counts = new Map<string, number>();
  for (const cell of said.values())
    for (const word of cell) if (!known.includes(word)) counts.set(word, (counts.get(word) ?? 0) + 1);
  const others = [...counts].filter(([, n]) => n >= OFTEN);
  return [...known, ...others.sort((a, b) => b[1] - a[1] || a[0].localeCompare(b[0])).map(([word]) => word)];
}

function checked(word: string, counts: number[], table: readonly (readonly number[])[]): CheckedWord {
  const none = (reason: string) => ({ word, counts, q: null, p: null, reason });
  if (table.length === 0) return none('no taster had every mix');
  if (table[0]!.length < 2) return none('only one mix was described');
  const { q, p, reason } = cochranQ(table);
  return { word, counts, q, p, reason };
}

function sayWords(words: readonly CheckedWord[]): string {
  const telling = words.filter(({ p }) => p !== null && p < APART).map(({ word }) => word);
  if (words.length === 0) return 'No word was used often enough to compare mixes by it.';
  if (telling.length === 0) return 'No word is used clearly more for some mixes than for others.';
  return `Used for some mixes more than for others: ${telling.join(', ')}.`;
}
