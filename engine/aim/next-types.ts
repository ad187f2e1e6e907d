import type { ModelName } from '../model/fit-types.ts';
import type { LinearSolver } from '../numeric/linear-solver.ts';
import type { Attribute, Serving } from '../panel/observations.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { Names } from '../region/limits.ts';
import type { Batch, Stocks, Weighing } from '../region/weighable.ts';
import type { WeighedMix } from '../region/weighed-mix.ts';
import type { Formula } from './formulas.ts';
import type { HeldBack } from './held-back.ts';
import type { FromLeftovers, LeftoverOnHand } from './leftover-types.ts';
import type { RelaxedLimit } from './relaxed-limits.ts';

export interface NextInput {
  space: BlendSpace;
  /** Display names of components, settings and attributes by id, for the sentences. */
  names: Names;
  batch: Batch;
  /** Strengths in percent in which components may be weighed instead, by component id. */
  stocks?: Stocks | undefined;
  attributes: readonly Attribute[];
  mixes: readonly WeighedMix[];
  servings: readonly Serving[];
  /** How many mixes to propose. */
  count: number;
  seed: number;
  /** Default `auto`. */
  model?: ModelName | 'auto' | undefined;
  /** What is left of earlier bottles, to make proposals from; absent = not asked. */
  leftovers?: readonly LeftoverOnHand[] | undefined;
  /** How long a round rests before it is tasted, in hours. */
  restHours?: number | null | undefined;
  /** Grams on hand by component id: the new mixes together need no more of it. Absent ones are not short. */
  onHand?: Readonly<Record<string, number>> | undefined;
  /** The last of the mixes is to be a check mix, where the models disagree by more than the panel's noise. */
  settle?: boolean | undefined;
  /** Price of a gram by component id; absent ones are not known. */
  prices?: Readonly<Record<string, number>> | undefined;
}

export interface NextTools {
  solver: LinearSolver;
}

export interface PredictedScore {
  mean: number;
  standardError: number;
  interval: [number, number];
  /** Chance that this attribute lies within its tolerance; null where it is not aimed at or cannot be judged. */
  chance: number | null;
}

export interface ProposedRecipe {
  ratios: Record<string, number>;
  grams: Record<string, number>;
  /** What to put on the balance, where some component has stocks. */
  weigh?: readonly Weighing[];
  settings: Record<string, number>;
  /** By attribute id; attributes that nobody scored are left out. */
  predicted: Record<string, PredictedScore>;
  /** Null where something that is aimed at cannot be judged. */
  chance: number | null;
  /** Distance of the predicted means to the target. */
  distance: number;
  /** Distance expected over the draws, which also counts what is not known. */
  expectedDistance: number;
}

export interface Proposal extends ProposedRecipe {
  mix: string;
  why: string;
  /** An existing mix to pour once more under its own name. */
  again?: true;
  /** How it is made from what is left; present where leftovers were given. */
  fromLeftovers?: FromLeftovers;
  /** Where it is a check mix: the attribute on which the averaged models lie farthest apart here, and by how much. */
  disagreement?: { attribute: string; gap: number };
}

export interface NextResult {
  proposals: Proposal[];
  /**
   * A mix where the averaged models disagree most, offered beside the proposals; null where they agree to within what
   * one new mix can show, or where it is among the proposals.
   */
  checkMix: Proposal | null;
  /** What to make if tasting stopped now. */
  best: ProposedRecipe;
  /** Whole parts near the best ratio that others can weigh; none where no chance can be given. */
  formulas: readonly Formula[];
  stop: {
    advised: boolean;
    because: string;
    highestChance: number;
    /** Expected distance at the best ratio now, and once the proposals are tasted. */
    before: number;
    after: number;
    /** Attributes that keep the best ratio from the target, the worst first; none where it is likely to match. */
    holdsBack: readonly HeldBack[];
    /** Limits that the best ratio lies on and whose giving way would bring something, the most promising first. */
    limits: readonly RelaxedLimit[];
  };
  warnings: string[];
}
