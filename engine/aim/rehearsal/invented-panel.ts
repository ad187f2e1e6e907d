import { onScale } from '../../model/chance.ts';
import type { Random } from '../../numeric/random.ts';
import type { Attribute, Serving } from '../../panel/observations.ts';
import { scaleLength } from '../target-miss.ts';

/** Scatter of an attribute's scores, as standard deviations in scale units. */
export interface PanelNoise {
  /** One cup about what this assessor gives this mix on average. */
  cup: number;
  /** What an assessor makes of one mix beyond the habits of scoring; 0 = a third of the cup's. */
  assessorByMix: number;
}

/** A cup to be tasted: a mix by name with its true scores. */
export interface TrueCup {
  mix: string;
  scores: readonly number[];
}

/** A simulated panel; the same people in every round. */
export interface InventedPanel {
  taste(cups: readonly TrueCup[], session: string, replicates: number): Serving[];
}

/** Where a brief gives nothing to go by: reactions and sittings against the noise of a cup. */
const REACTION = 1 / 3;
const SITTING = 1 / 4;
/** Lasting habits: points added to everything, in points of 100, and how much of a difference reaches the scale. */
const HABIT = 8;
const SLOPES = [0.8, 1.25] as const;

/**
 * Invented assessors: score = target + habit + slope · (truth - target) + reaction to the mix + sitting + cup noise.
 * Habits average 0 and slopes 1 over the panel, so that the panel's average is the truth: that is what targets are
 * numbers of. Scores are cut off at the ends of the scale.
 *
 * @param pivots by attribute: the score that slopes leave alone
 */
export function inventPanel(
  attributes: readonly Attribute[],
  by: { assessors: number; noise: readonly PanelNoise[]; pivots: readonly number[]; random: Random },
): InventedPanel {
  const { assessors, noise, pivots, random } = by;
  const habits = attributes.map((attribute) =>
    centred(assessors, 0, () => ((HABIT * scaleLength(attribute)) / 100) * random.normal()),
  );
  const slopes = centred(assessors, 1, () => SLOPES[0] + (SLOPES[1] - SLOPES[0]) * random.uniform());
  const reactions = new Map<string, number>();
  const reactionTo = (mix: string, a: number, k: number): number => {
    const key = `${mix} ${a} ${k}`;
    const { cup, assessorByMix } = noise[k]!;
    const spread = assessorByMix > 0 ? assessorByMix : REACTION * cup;
    const found = reactions.get(key) ?? spread * random.normal();
    reactions.set(key, found);
    return found;
  };
  return {
    taste(cups, session, replicates) {
      const shifts = noise.map(({ cup }) => SITTING * cup * random.normal());
      return cups.flatMap(({ mix, scores }) =>
        Array.from({ length: assessors * replicates }, (_, n): Serving => {
          const a = n % assessors;
          const given = attributes.map((attribute, k) => {
            const habitual = pivots[k]! + habits[k]![a]! + slopes[a]! * (scores[k]! - pivots[k]!);
            const cupNoise = noise[k]!.cup * random.normal();
            return onScale(attribute, habitual + reactionTo(mix, a, k) + shifts[k]! + cupNoise);
          });
          const replicate = String(1 + Math.floor(n / assessors));
          return { mix, assessor: `T${a + 1}`, session, replicate, position: null, scores: given };
        }),
      );
    },
  };
}

/** Drawn numbers, moved so that their mean is the one asked for. */
function centred(count: number, mean: number, draw: () => number): number[] {
  const drawn = Array.from({ length: count }, draw);
  const off = drawn.reduce((a, b) => a + b, 0) / count - mean;
  return drawn.map((v) => v - off);
}
