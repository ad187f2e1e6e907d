import { type LadderThreshold, ladderThreshold } from '../../../engine/design/dose-ladder.ts';
import type { LadderTray, LadderView, TrialView } from '../../../trials/schema/api.ts';
import { LEAST_RUNGS, MOST_RUNGS } from '../../../trials/schema/ladder-rungs.ts';
import { readNumber } from '../numbers.ts';

/** How a ladder is set up, as typed. */
export interface LadderDraft {
  component: string;
  /** mg in a litre of drink on the lowest rung. */
  weakest: string;
  factor: string;
  rungs: string;
  tasters: string;
}

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

/** How many rungs a taster has answered. */
export function answeredRungs({ named }: LadderTray): number {
  return named.filter((code) => code !== null).length;
}

/** The threshold of those who have answered every rung, and who has not; null where nobody has. */
export function readLadder({ trays, concentrations }: Pick<LadderView, 'trays' | 'concentrations'>): {
  found: LadderThreshold | null;
  missing: string[];
} {
  const isDone = (tray: LadderTray) => answeredRungs(tray) === tray.threes.length;
  const answers = trays.filter(isDone).map(({ taster, threes, named }) => ({
    assessor: taster,
    correct: threes.map(({ odd }, k) => named[k] === odd),
  }));
  return {
    found: answers.length === 0 ? null : ladderThreshold(concentrations, answers),
    missing: trays.filter((tray) => !isDone(tray)).map(({ taster }) => taster),
  };
}

/** What the brief calls a component, or its id where the brief no longer holds it. */
export function componentName({ brief }: TrialView, component: string): string {
  return brief.components.find(({ id }) => id === component)?.name || component;
}

/** One cup each with a tenth over, millilitres. */
export function jugMillilitres(tasters: number, cupMillilitres: number): number {
  return tasters * cupMillilitres * 1.1;
}

/** Grams of a stock that bring a jug to so many mg a litre. */
export function stockGrams(perLitre: number, millilitres: number, strength: number): number {
  return (perLitre * millilitres) / 1000 / (10 * strength);
}
