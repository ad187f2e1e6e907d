import type { Attribute } from '../panel/observations.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { Names } from '../region/limits.ts';
import type { Recipe } from './recipe.ts';

/** What is known of a proposal when its sentence is written. */
export interface ProposalFacts {
  recipe: Recipe;
  /** The name it is poured under again; null for a new mix. */
  again: string | null;
  chance: number | null;
  expected: number;
  /** The attribute whose place at this ratio is least certain, weighted as it counts. */
  leastKnown: Attribute | null;
}

/** What a proposal is compared with: the best ratio so far and its expected distance. */
export interface BestFacts {
  recipe: Recipe;
  chance: number | null;
  expected: number;
}

/** Within this many points of the best expected distance a proposal confirms rather than explores. */
const AS_GOOD = 0.35;

/** Why a mix is proposed, in one sentence a bartender understands. */
export function whyProposed(
  space: BlendSpace,
  names: Names,
  proposal: ProposalFacts,
  best: BestFacts,
): string {
  const { again, expected, leastKnown, chance } = proposal;
  if (again !== null)
    return `Pours ${again} once more: a second look at it tells more than a new ratio would.`;
  const step = largestStep(space, names, proposal.recipe, best.recipe);
  if (expected <= best.expected + AS_GOOD)
    return step === null
      ? `Confirms the best ratio so far${best.chance === null ? '' : `, expected to match with ${inHundred(best.chance)}`}, in a mix of its own.`
      : `Expected as near the target as the best so far, with ${step}${chance === null ? '' : `: ${inHundred(chance)} to match`}.`;
  const asks = leastKnown === null ? 'what that does' : `what that does to ${named(names, leastKnown.id)}`;
  return `With ${step ?? 'almost the best ratio'}: may come closer to the target, and settles ${asks}.`;
}

/** The component or setting that moves most from the best ratio, in its own range: `more Quassia`. */
function largestStep(space: BlendSpace, names: Names, recipe: Recipe, from: Recipe): string | null {
  const moves = [
    ...space.components.map(({ id, low, high }, i) =>
      move(id, recipe.shares[i]! - from.shares[i]!, high - low),
    ),
    ...space.settings.map(({ id, low, high }, s) =>
      move(id, recipe.settings[s]! - from.settings[s]!, high - low),
    ),
  ];
  const most = moves.reduce((a, b) => (Math.abs(b.by) > Math.abs(a.by) ? b : a));
  if (Math.abs(most.by) < 0.03) return null;
  return `${most.by > 0 ? 'more' : 'less'} ${named(names, most.id)}`;
}

function move(id: string, change: number, range: number): { id: string; by: number } {
  return { id, by: range > 0 ? change / range : 0 };
}

function named(names: Names, id: string): string {
  return Object.hasOwn(names, id) ? names[id]! : id;
}

function inHundred(share: number): string {
  return share < 0.005 ? 'fewer than 1 in 100' : `${Math.round(100 * share)} in 100`;
}
