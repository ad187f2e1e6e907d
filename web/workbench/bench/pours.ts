import { correctPour } from '../../../engine/bench/correct-pour.ts';
import { readNumber } from '../numbers.ts';
import { type Bottle, tidy, type WeighLine } from './weighing.ts';

/** Grams of each line as noted so far. */
export type Noted = Readonly<Record<string, number>>;

/** How far a bottle has been poured. */
export interface Pours {
  noted: Noted;
  /** What each line should come to where a correction has raised it; else its plan. */
  aims: Noted;
  /** Lines that a correction asks more of, and how much. */
  more: Noted;
}

/** The balance is set to zero before each component, or shows the growing total. */
export type Showing = 'each' | 'total';

/** What is to be poured now. */
export interface Pour {
  line: WeighLine;
  /** Grams to add. */
  add: number;
  /** More of a line that is in already, to put the ratio right. */
  again: boolean;
}

/** A bottle as it stands: empty, or as it was weighed. */
export function beginPours(weighed: Noted | null): Pours {
  return { noted: weighed ?? {}, aims: {}, more: {} };
}

/** The first line that is not in yet, then what a correction asks more of; null where the bottle is whole. */
export function nextPour({ lines }: Bottle, { noted, aims, more }: Pours): Pour | null {
  const empty = lines.find(({ id }) => noted[id] === undefined);
  if (empty) return { line: empty, add: aims[empty.id] ?? empty.planned, again: false };
  const short = lines.find(({ id }) => (more[id] ?? 0) > 0);
  return short ? { line: short, add: more[short.id]!, again: true } : null;
}

/** What stands in the bottle. */
export function inside({ lines }: Bottle, { noted }: Pours): number {
  return tidy(lines.reduce((sum, { id }) => sum + (noted[id] ?? 0), 0));
}

/** What the balance should show when this pour is in. */
export function toShow(bottle: Bottle, pours: Pours, { add }: Pour, showing: Showing): number {
  return showing === 'each' ? add : tidy(inside(bottle, pours) + add);
}

/** A pour as it went in. */
export function withPoured(pours: Pours, { line, again }: Pour, grams: number): Pours {
  const { [line.id]: _, ...more } = pours.more;
  const before = again ? pours.noted[line.id]! : 0;
  return { ...pours, noted: { ...pours.noted, [line.id]: tidy(before + grams) }, more };
}

/** A line to be weighed anew; what a correction asked for no longer holds. */
export function withoutLine(pours: Pours, id: string): Pours {
  const { [id]: _, ...noted } = pours.noted;
  return { noted, aims: {}, more: {} };
}

/**
 * The smallest correction after a wrong pour: the mix grows until the line that stands highest over its plan is
 * right again; lines still to come are raised, those already in are topped up.
 */
export function withCorrection(bottle: Bottle, pours: Pours, readability: number): Pours {
  const planned = bottle.lines.map((line) => line.planned);
  const poured = bottle.lines.map(({ id }) => pours.noted[id] ?? 0);
  const { grams, add } = correctPour(planned, poured, readability);
  const aims = Object.fromEntries(bottle.lines.map(({ id }, i) => [id, grams[i]!]));
  const more = bottle.lines.flatMap(({ id }, i) =>
    pours.noted[id] !== undefined && add[i]! > 0 ? [[id, add[i]!] as const] : [],
  );
  return { noted: pours.noted, aims, more: Object.fromEntries(more) };
}

/** How much larger a bottle is than planned, as a factor; 1 until every line is in. */
export function growth(bottle: Bottle, pours: Pours): number {
  const planned = bottle.lines.reduce((sum, line) => sum + line.planned, 0);
  return nextPour(bottle, pours) === null && planned > 0 ? inside(bottle, pours) / planned : 1;
}

/** What came of a typed number: a mass, and where it is off the plan how, or why it cannot be one. */
export type Typed = { grams: number; off: { over: boolean; says: string } | null } | { fault: string };

interface At {
  bottle: Bottle;
  pours: Pours;
  pour: Pour;
  showing: Showing;
  readability: number;
  /** How well a mass should be known, as a fraction. */
  tolerance: number;
}

/** Reads what the balance shows. A mass off the plan is doubted once, never refused: it counts. */
export function readBalance(typed: string, at: At): Typed {
  const { bottle, pours, pour, showing } = at;
  const value = readNumber(typed);
  if (value === null) return { fault: 'Type the number that the balance shows.' };
  const grams = tidy(showing === 'each' ? value : value - inside(bottle, pours));
  if (grams < 0)
    return {
      fault:
        showing === 'total' ? 'That is less than before this component went in.' : 'A mass is not negative.',
    };
  return { grams, off: offPlan(grams, pour.add, at) };
}

/** Off by more than a step of the balance and more than the tolerance. */
function offPlan(grams: number, wanted: number, { readability, tolerance, showing, pour }: At) {
  const off = tidy(grams - wanted);
  const slack = Math.max(readability, tolerance * wanted);
  if (pour.line.planned === 0 || Math.abs(off) <= slack * (1 + 1e-9)) return null;
  return { over: off > 0, says: `${hintOf(grams, wanted, showing)}${sayOff(off, wanted)}` };
}

function hintOf(grams: number, wanted: number, showing: Showing): string {
  const times = wanted > 0 ? grams / wanted : 0;
  if (grams === 0) return 'Nothing at all? ';
  if (times > 8) return 'Many times the plan: a decimal point? ';
  if (times > 1.9 && times < 2.1) return 'Twice the plan. ';
  if (times > 1.25 && showing === 'each') return 'Far over: was the balance set to zero? ';
  return '';
}

function sayOff(off: number, wanted: number): string {
  const size = `${tidy(Math.abs(off))} g, ${Math.round((100 * Math.abs(off)) / wanted)} %`;
  return off > 0 ? `${size}, too much.` : `${size}, too little: pour more and type what it shows then.`;
}
