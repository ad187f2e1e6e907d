import { type Penalty, penaltyAnalysis, type Side } from '../choices/just-about-right.ts';
import { isAnalysed, mixOrder } from '../cups.ts';
import type { Serving } from '../observations.ts';

export interface RightMix {
  mix: string;
  tooLittle: number;
  right: number;
  tooMuch: number;
  /** What being off costs in liking; null where liking was not asked beside it. */
  penalty: Penalty | null;
  says: string;
}

/** A just-about-right question, mix by mix and over all mixes. */
export interface RightReading {
  /** The question about liking that penalties are counted in. */
  liking: string | null;
  mixes: RightMix[];
  overall: Penalty | null;
  reason: string | null;
}

interface Question {
  /** Place of the question in `scores`. */
  at: number;
  scale: readonly [number, number];
  /** The question about liking, where one was asked. */
  liking: { id: string; at: number } | null;
  setAside: ReadonlySet<string>;
}

/**
 * Who finds each mix to have too little, too much, or the right amount, and what liking that costs (penalty analysis,
 * beside `penaltyAnalysis`). Only cups that have both answers enter a penalty. Repeated cups count each.
 */
export function readRight(servings: readonly Serving[], question: Question): RightReading {
  const { at, scale, liking, setAside } = question;
  const middle = (scale[0] + scale[1]) / 2;
  const cups = servings.filter(
    (serving) => isAnalysed(serving) && !setAside.has(serving.assessor) && serving.scores[at] != null,
  );
  const mixes = [...new Set(cups.map(({ mix }) => mix))].sort(mixOrder);
  const penaltyOf = (some: readonly Serving[]): Penalty | null => {
    if (liking === null) return null;
    const both = some.filter(({ scores }) => scores[liking.at] != null);
    if (both.length === 0) return null;
    return penaltyAnalysis(
      both.map(({ scores }) => ({ side: scores[at]! - middle, liking: scores[liking.at]! })),
    );
  };
  return {
    liking: liking?.id ?? null,
    mixes: mixes.map((mix) => {
      const own = cups.filter((serving) => serving.mix === mix);
      const count = (keep: (side: number) => boolean) =>
        own.filter(({ scores }) => keep(scores[at]! - middle)).length;
      const [tooLittle, right, tooMuch] = [count((s) => s < 0), count((s) => s === 0), count((s) => s > 0)];
      const penalty = penaltyOf(own);
      return {
        mix,
        tooLittle,
        right,
        tooMuch,
        penalty,
        says: sayMix({ tooLittle, right, tooMuch, penalty }),
      };
    }),
    overall: penaltyOf(cups),
    reason: liking === null ? 'no question about liking was asked beside it' : null,
  };
}

function sayMix({ tooLittle, right, tooMuch, penalty }: Omit<RightMix, 'mix' | 'says'>): string {
  const all = tooLittle + right + tooMuch;
  const parts = [
    `${right} of ${all} find it just about right`,
    sideWords(tooLittle, 'too little', penalty?.tooWeak),
    sideWords(tooMuch, 'too much', penalty?.tooStrong),
  ];
  return `${parts.filter((part) => part !== '').join(', ')}.`;
}

/** A drop is told only where enough chose the side and its interval leaves zero out. */
function sideWords(count: number, words: string, side: Side | undefined): string {
  if (count === 0) return '';
  const sure = side?.counts && side.interval !== null && (side.interval[0] > 0 || side.interval[1] < 0);
  if (!sure || side.drop === null) return `${count} ${words}`;
  const change = side.drop > 0 ? 'less' : 'more';
  return `${count} ${words} (they like it ${Math.abs(side.drop).toFixed(1)} ${change})`;
}
