import { type NamedStream, namedStream, shuffled } from './named-stream.ts';

/** One assessor's cups of a sitting, in the order of tasting, with the codes on them. */
export interface CodedTray {
  assessor: string;
  cups: { position: number; code: string; mix: string }[];
}

/** The rows of a square in which each of four cups stands in each place and after each other once (Williams 1949). */
const ORDERS_OF_FOUR = [
  [0, 1, 3, 2],
  [1, 2, 0, 3],
  [2, 3, 1, 0],
  [3, 0, 2, 1],
] as const;

/**
 * Trays of four cups for every taster. Which mix gets which letter is drawn for each sitting, and the first taster
 * moves on by two rows from sitting to sitting, so that six tasters over two sittings use each row three times.
 * @param codesTaken codes an assessor has met before, by assessor; the new ones are added
 */
export function drawDemoTrays(
  sitting: { label: string; index: number; mixes: readonly [string, string, string, string] },
  assessors: readonly string[],
  codesTaken: Map<string, Set<string>>,
  seed: number,
): CodedTray[] {
  const stream = namedStream(seed, 'trays', sitting.label);
  const letters = shuffled(sitting.mixes, stream);
  const inThisSitting = new Set<string>();
  return assessors.map((assessor, a) => {
    const order = ORDERS_OF_FOUR[(a + 2 * sitting.index) % ORDERS_OF_FOUR.length]!;
    const own = codesTaken.get(assessor) ?? new Set<string>();
    codesTaken.set(assessor, own);
    return {
      assessor,
      cups: order.map((letter, i) => {
        const code = freshCode(stream, (c) => own.has(c) || inThisSitting.has(c));
        own.add(code);
        inThisSitting.add(code);
        return { position: i + 1, code, mix: letters[letter]! };
      }),
    };
  });
}

function freshCode(stream: NamedStream, taken: (code: string) => boolean): string {
  for (;;) {
    const code = String(100 + Math.floor(900 * stream.uniform()));
    if (!taken(code)) return code;
  }
}
