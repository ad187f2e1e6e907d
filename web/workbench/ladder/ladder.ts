import { type LadderThreshold, ladderThreshold } from '../../../engine/design/dose-ladder.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import { drawCodes } from '../../../engine/panel/serving-codes.ts';
import { readNumber } from '../numbers.ts';

/** How a ladder is set up, as typed. */
export interface LadderDraft {
  component: string;
  /** mg in a litre of drink on the lowest rung. */
  weakest: string;
  factor: string;
  rungs: string;
  tasters: string;
  /** Percent by mass of the stock that is weighed into the jugs. */
  stock: string;
}

/** Three cups of one rung for one taster; one of them holds the component. */
export interface Three {
  codes: readonly string[];
  odd: string;
}

export interface LadderTray {
  taster: string;
  /** Lowest rung first. */
  threes: readonly Three[];
}

/** A ladder whose cups are drawn, with the codes that tasters named. */
export interface DrawnLadder {
  component: string;
  /** mg in a litre of drink, rising. */
  concentrations: readonly number[];
  trays: readonly LadderTray[];
  /** By taster, rung by rung: the code of the cup that was called the odd one. */
  named: Readonly<Record<string, readonly string[]>>;
}

const LEAST_RUNGS = 3;
const MOST_RUNGS = 10;

/** The rungs in mg a litre, or what is wrong with what was typed. */
export function rungsOf({ weakest, factor, rungs }: LadderDraft): number[] | { fault: string } {
  const [first, by, count] = [weakest, factor, rungs].map(readNumber);
  if (first == null || first <= 0) return { fault: 'The lowest rung: milligrams in a litre, above 0.' };
  if (by == null || by <= 1 || by > 10)
    return { fault: 'Each rung so many times the one below: above 1, up to 10.' };
  if (count == null || !Number.isInteger(count) || count < LEAST_RUNGS || count > MOST_RUNGS)
    return { fault: `A whole number of rungs, ${LEAST_RUNGS} to ${MOST_RUNGS}.` };
  return Array.from({ length: count }, (_, k) => Number((first * by ** k).toPrecision(6)));
}

/** Names with commas between, each once. */
export function tastersOf({ tasters }: LadderDraft): string[] {
  return [...new Set(tasters.split(',').map((name) => name.trim()))].filter((name) => name !== '');
}

/**
 * Draws codes and places: three cups a rung for each taster, the one with the component in a place of its own drawing.
 * @param seed fixes all of it
 */
export function drawLadder(
  component: string,
  concentrations: readonly number[],
  tasters: readonly string[],
  seed: number,
): DrawnLadder {
  const random = createRandom(seed, 'ladder');
  const cups = 3 * concentrations.length;
  const sittings = tasters.map((assessor) => ({ assessor, session: 'ladder', cups }));
  const codes = drawCodes(sittings, {}, random.fork('codes'));
  const trays = tasters.map((taster, t) => ({
    taster,
    threes: concentrations.map((_, k): Three => {
      const three = codes[t]!.slice(3 * k, 3 * k + 3);
      return { codes: three, odd: three[random.integer(3)]! };
    }),
  }));
  return { component, concentrations, trays, named: {} };
}

/** Notes the code that a taster called odd on a rung. */
export function withNamed(ladder: DrawnLadder, taster: string, rung: number, code: string): DrawnLadder {
  const own = Array.from(ladder.concentrations, (_, k) => ladder.named[taster]?.[k] ?? '');
  own[rung] = code.trim();
  return { ...ladder, named: { ...ladder.named, [taster]: own } };
}

/** A code that is none of the three cups of its rung. */
export function isStranger({ trays, named }: DrawnLadder, taster: string, rung: number): boolean {
  const code = named[taster]?.[rung] ?? '';
  const three = trays.find((tray) => tray.taster === taster)?.threes[rung];
  return code !== '' && three !== undefined && !three.codes.includes(code);
}

/** The threshold of those who have answered every rung, and who has not; null where nobody has. */
export function readLadder(ladder: DrawnLadder): { found: LadderThreshold | null; missing: string[] } {
  const { trays, named, concentrations } = ladder;
  const isDone = ({ taster, threes }: LadderTray) =>
    threes.every(({ codes }, k) => codes.includes(named[taster]?.[k] ?? ''));
  const answers = trays.filter(isDone).map(({ taster, threes }) => ({
    assessor: taster,
    correct: threes.map(({ odd }, k) => named[taster]![k] === odd),
  }));
  return {
    found: answers.length === 0 ? null : ladderThreshold(concentrations, answers),
    missing: trays.filter((tray) => !isDone(tray)).map(({ taster }) => taster),
  };
}

/** One cup each with a tenth over, millilitres. */
export function jugMillilitres(tasters: number, cupMillilitres: number): number {
  return tasters * cupMillilitres * 1.1;
}

/** Grams of a stock that bring a jug to so many mg a litre. */
export function stockGrams(perLitre: number, millilitres: number, strength: number): number {
  return (perLitre * millilitres) / 1000 / (10 * strength);
}
