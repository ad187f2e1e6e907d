import type { Live } from '../schema/api.ts';
import type { CupRecord, Rests, SeatRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { type Part, partsOf, rankingIds } from './cup-parts.ts';
import { findSitting } from './find.ts';
import type { SittingPlace } from './sitting-life.ts';

/** A taster at a cup is heard of within this time, unless something is wrong. Our own choice. */
const QUIET_MINUTES = 4;
const CUPS_BEFORE_A_LONG_REST = 4;

/** Who is at which cup and how much is in: counts only, never a score, the same whatever is in the cups. */
export function liveView(store: Store, { trial, sitting }: SittingPlace, now: Date): Live {
  const { state, questions, rests } = findSitting(store, trial, sitting);
  const rankings = rankingIds(questions);
  const asked = questions.length - rankings.length;
  const counts = new Map(
    store.answers
      .answered(trial, sitting, rankings)
      .map(({ assessor, code, answered }) => [JSON.stringify([assessor, code]), answered]),
  );
  const consents = new Set(store.answers.consents(trial, sitting).map(({ assessor }) => assessor));
  const bySeat = new Map(store.answers.bySeat(trial, sitting).map((one) => [one.assessor, one]));
  const cups = byTaster(store.sittings.cups(trial, sitting));
  const trays = store.sittings.seats(trial, sitting).map((seat) => {
    const { assessor, position, heard, absent } = seat;
    const parts = partsOf(cups.get(assessor) ?? []);
    const missing = parts.map((part) => asked - (counts.get(JSON.stringify([assessor, codeOf(part)])) ?? 0));
    const filled = missing.filter((marks) => marks <= 0).length;
    const answers = bySeat.get(assessor);
    const lastHeard = later(heard, answers?.heard ?? null);
    const mayTaste = consents.has(assessor);
    const busy = state === 'open' && mayTaste && !absent && filled < parts.length;
    return {
      assessor,
      mayTaste,
      cups: parts.length,
      filled,
      at: position,
      lastHeard,
      phones: answers?.phones ?? 0,
      clashes: (answers?.phones ?? 0) > 1 ? store.answers.clashes({ trial, sitting, assessor }) : 0,
      late: answers?.late ?? 0,
      absent,
      gaps: gapsOf(parts, missing, { seat, over: state === 'closed' }),
      quietFrom: busy && lastHeard !== null ? quietFrom(lastHeard, filled, rests) : null,
    };
  });
  return { sitting, state, now: now.toISOString(), trays };
}

function byTaster(cups: readonly CupRecord[]): Map<string, CupRecord[]> {
  const groups = new Map<string, CupRecord[]>();
  for (const cup of cups) groups.set(cup.assessor, [...(groups.get(cup.assessor) ?? []), cup]);
  return groups;
}

/** A set of a difference test is answered under its first cup. */
function codeOf({ cups }: Part): string {
  return cups[0]!.code;
}

/** Cups that a taster has left behind, or all once the tasting is over, in which marks are missing. */
function gapsOf(
  parts: readonly Part[],
  missing: readonly number[],
  { seat, over }: { seat: SeatRecord; over: boolean },
): Live['trays'][number]['gaps'] {
  if (seat.absent) return [];
  return parts.flatMap((part, i) => {
    const passed = over || i + 1 < seat.position;
    return passed && missing[i]! > 0 ? [{ code: codeOf(part), missing: missing[i]! }] : [];
  });
}

/** Silence is expected while a taster rests, longest after every fourth cup. */
function quietFrom(lastHeard: string, filled: number, { betweenCups, afterFour }: Rests): string {
  const long = filled > 0 && filled % CUPS_BEFORE_A_LONG_REST === 0;
  const seconds = 60 * QUIET_MINUTES + (long ? Math.max(afterFour, betweenCups) : betweenCups);
  return new Date(Date.parse(lastHeard) + 1000 * seconds).toISOString();
}

function later(a: string | null, b: string | null): string | null {
  if (a === null || b === null) return a ?? b;
  return a > b ? a : b;
}
