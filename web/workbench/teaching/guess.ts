import { type PairedGap, pairedGap } from '../../../engine/panel/paired-gap.ts';
import { hiddenDrink, type PairScores, truthOf } from '../../../trials/teaching/hidden-drink.ts';

/** How a mix compares with the hidden drink on one attribute, as the panel scored them. */
export interface AttributeGap {
  id: string;
  name: string;
  gap: PairedGap;
}

/** The panel's differences, mix minus hidden drink. */
export function gapsOf(
  pairs: readonly PairScores[],
  attributes: readonly { id: string; name: string }[],
): AttributeGap[] {
  return attributes.map(({ id, name }) => ({
    id,
    name,
    gap: pairedGap(
      pairs.map(({ yours }) => yours[id] ?? null),
      pairs.map(({ hidden }) => hidden[id] ?? null),
    ),
  }));
}

/** What a difference says, as far as the panel can tell. */
export function gapWords({ gap }: AttributeGap): string {
  if (gap.interval === null) return 'cannot be told';
  const [low, high] = gap.interval;
  if (low > 0) return 'too much';
  return high < 0 ? 'too little' : 'cannot tell';
}

/** How far a guess is from the hidden drink. */
export interface Outcome {
  /** Grams of the hidden drink. */
  hidden: number[];
  /** Root of the mean squared difference of the true scores, in points of 100. */
  points: number;
  /** Half the summed differences of the shares, in parts of a hundred: what would have to be poured elsewhere. */
  parts: number;
}

export function outcomeOf(number: number, grams: readonly number[]): Outcome {
  const hidden = hiddenDrink(number);
  const [mine, theirs] = [truthOf(grams), truthOf(hidden)];
  const squares = mine.reduce((sum, score, k) => sum + (score - theirs[k]!) ** 2, 0);
  const shares = (list: readonly number[]) => list.map((g) => g / list.reduce((a, b) => a + b, 0));
  const [a, b] = [shares(grams), shares(hidden)];
  const apart = a.reduce((sum, share, k) => sum + Math.abs(share - b[k]!), 0) / 2;
  return { hidden, points: Math.sqrt(squares / mine.length), parts: 100 * apart };
}
