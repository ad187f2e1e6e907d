import { namedStream } from '../../trials/demo/named-stream.ts';

/** Invented questions, with the score that each is to have. */
export const ATTRIBUTES = [
  ['Floral', 45],
  ['Sweet', 40],
  ['Sharp', 30],
  ['Woody', 35],
] as const;

/** The short names that the brief gives them; each taster meets them in an order of their own. */
export const IDS = ATTRIBUTES.map(([name]) => name.toLowerCase());

/** Invented: what a blend of the three scores truly. */
function truth([a, b, c]: readonly number[]): number[] {
  return [
    80 * a! + 20 * b! + 10 * c!,
    10 * a! + 75 * b! + 30 * c!,
    70 * a! * c! + 20 * b! + 25 * c!,
    85 * c! + 15 * b!,
  ];
}

/** A cup as the pouring sheet names it. */
export interface Cup {
  code: string;
  mix: string;
  position: number;
}

/** An answer as a phone would send it. */
export interface Answered {
  code: string;
  question: string;
  value: number;
}

/** Names the odd cup of the set, wrongly for two tasters of five. */
export function oddOnes(
  name: string,
  ballot: { questions: { id: string }[] },
  cups: readonly Cup[],
): Answered[] {
  const odd = cups.find(({ mix }) => cups.filter((cup) => cup.mix === mix).length === 1)!;
  const other = cups.find((cup) => cup !== odd)!;
  const right = Number(name.slice(1)) % 5 < 3;
  return [
    { code: cups[0]!.code, question: ballot.questions[0]!.id, value: Number((right ? odd : other).code) },
  ];
}

/** What a taster says of a blend: the truth, a habit of theirs and the noise of this cup. */
export function scoresOf(name: string, blend: readonly number[], cup: string): number[] {
  const habit = namedStream(7, 'habit', name);
  const noise = namedStream(7, 'cup', name, cup);
  return truth(blend).map((score) => {
    const heard = score + habit.normal(5) + noise.normal(6);
    return Math.round(Math.min(100, Math.max(0, heard)));
  });
}
