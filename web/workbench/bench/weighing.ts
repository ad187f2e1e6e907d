import type { RoundMix, RoundView } from '../../../trials/schema/api.ts';
import type { Brief } from '../../../trials/schema/brief.ts';
import { readNumber } from '../numbers.ts';

/** A bottle to be weighed once, and the mixes that are poured from it. */
export interface Bottle {
  blend: string;
  mixes: string[];
  lines: WeighLine[];
  weighed: Record<string, number> | null;
  why: string;
  note: string;
}

export interface WeighLine {
  id: string;
  name: string;
  planned: number;
}

/** The balance is set to zero before each component, or shows the growing total. */
export type Showing = 'each' | 'total';

/** The bottles to weigh in a round, in the order of its mixes; those of earlier rounds stand already. */
export function bottlesOf(brief: Brief, round: RoundView, earlier: readonly RoundView[]): Bottle[] {
  const standing = new Set(earlier.flatMap(({ mixes }) => mixes.map(({ blend }) => blend)));
  const bottles = new Map<string, Bottle>();
  for (const mix of round.mixes) {
    if (mix.again || standing.has(mix.blend)) continue;
    const known = bottles.get(mix.blend);
    if (known) known.mixes.push(mix.mix);
    else bottles.set(mix.blend, bottleOf(brief, mix));
  }
  return [...bottles.values()];
}

function bottleOf(brief: Brief, mix: RoundMix): Bottle {
  const lines = brief.components
    .map(({ id, name }) => ({ id, name, planned: mix.planned.grams[id] ?? 0 }))
    .filter(({ planned, id }) => planned > 0 || (mix.weighed?.[id] ?? 0) > 0);
  return { blend: mix.blend, mixes: [mix.mix], lines, weighed: mix.weighed, why: mix.why, note: mix.note };
}

/** Grams of each line as noted so far. */
export type Noted = Readonly<Record<string, number>>;

/** The first line without a mass, or null where the bottle is whole. */
export function lineToWeigh(bottle: Bottle, noted: Noted): WeighLine | null {
  return bottle.lines.find(({ id }) => noted[id] === undefined) ?? null;
}

/** What stands in the bottle before a line is added. */
export function totalBefore(bottle: Bottle, noted: Noted, line: string): number {
  const before = bottle.lines.slice(
    0,
    bottle.lines.findIndex(({ id }) => id === line),
  );
  return tidy(before.reduce((sum, { id }) => sum + (noted[id] ?? 0), 0));
}

/** What the balance should show when a line is in. */
export function toShow(bottle: Bottle, noted: Noted, line: WeighLine, showing: Showing): number {
  return showing === 'each' ? line.planned : tidy(totalBefore(bottle, noted, line.id) + line.planned);
}

/** What came of a typed number: a mass, or why it cannot be one, or a doubt that a second Enter settles. */
export type Typed = { grams: number; doubt: string | null } | { fault: string };

/** Reads what the balance shows. A mass that is far from the plan is doubted once, never refused: it counts. */
export function readBalance(
  typed: string,
  { bottle, noted, line, showing }: { bottle: Bottle; noted: Noted; line: WeighLine; showing: Showing },
): Typed {
  const value = readNumber(typed);
  if (value === null) return { fault: 'Type the number that the balance shows.' };
  const grams = tidy(showing === 'each' ? value : value - totalBefore(bottle, noted, line.id));
  if (grams < 0)
    return {
      fault:
        showing === 'total' ? 'That is less than before this component went in.' : 'A mass is not negative.',
    };
  return { grams, doubt: doubtOf(grams, line.planned, showing) };
}

function doubtOf(grams: number, planned: number, showing: Showing): string | null {
  if (Math.abs(grams - planned) <= 0.25 * planned) return null;
  if (grams === 0) return 'Nothing at all? Enter again keeps it.';
  const times = planned > 0 ? grams / planned : 0;
  if (times > 1.9 && times < 2.1) return 'That is twice the plan. Enter again keeps it as weighed.';
  if (times > 8) return 'That is many times the plan: a decimal point? Enter again keeps it.';
  const hint = showing === 'each' && grams > planned ? ' Was the balance set to zero?' : '';
  return `That is far from the plan.${hint} Enter again keeps it as weighed.`;
}

/** Sums and differences of hundredths without the dust of binary fractions. */
export function tidy(value: number): number {
  return Number(value.toFixed(6));
}
