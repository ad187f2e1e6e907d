import type { Live } from '../schema/api.ts';
import type { Store } from '../store/store.ts';
import { partsOf, rankingIds } from './cup-parts.ts';
import { findSitting } from './find.ts';
import type { SittingPlace } from './sitting-life.ts';

/** Who is at which cup and how much is in: counts only, never a score, the same whatever is in the cups. */
export function liveView(store: Store, { trial, sitting }: SittingPlace): Live {
  const { state, questions } = findSitting(store, trial, sitting);
  const rankings = rankingIds(questions);
  const asked = questions.length - rankings.length;
  const answered = store.answers.answered(trial, sitting, rankings);
  const consents = new Set(store.answers.consents(trial, sitting).map(({ assessor }) => assessor));
  const bySeat = new Map(store.answers.bySeat(trial, sitting).map((one) => [one.assessor, one]));
  const clashes = new Map(store.answers.clashes(trial, sitting).map((one) => [one.assessor, one.clashes]));
  const cups = countBy(partHeads(store, { trial, sitting }));
  const filled = countBy(answered.filter((cup) => cup.answered >= asked));
  const trays = store.sittings.seats(trial, sitting).map(({ assessor, position, heard, absent }) => {
    const seat = bySeat.get(assessor);
    return {
      assessor,
      mayTaste: consents.has(assessor),
      cups: cups.get(assessor) ?? 0,
      filled: filled.get(assessor) ?? 0,
      at: position,
      lastHeard: later(heard, seat?.heard ?? null),
      phones: seat?.phones ?? 0,
      clashes: clashes.get(assessor) ?? 0,
      late: seat?.late ?? 0,
      absent,
    };
  });
  return { sitting, state, trays };
}

/** The first cup of each part: a set of a difference test counts as one. */
function partHeads(store: Store, { trial, sitting }: SittingPlace): { assessor: string }[] {
  return partsOf(store.sittings.cups(trial, sitting)).map(({ cups }) => cups[0]!);
}

function countBy(rows: readonly { assessor: string }[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { assessor } of rows) counts.set(assessor, (counts.get(assessor) ?? 0) + 1);
  return counts;
}

function later(a: string | null, b: string | null): string | null {
  if (a === null || b === null) return a ?? b;
  return a > b ? a : b;
}
