import type { Serving } from '../../../engine/panel/observations.ts';
import type { NamedStream } from '../../../trials/demo/named-stream.ts';
import type { World } from '../world.ts';

/** A blend and its settings. */
export interface Recipe {
  shares: number[];
  settings: number[];
}

/** A mix that was made: its shares as the balance showed them. */
export interface MadeMix extends Recipe {
  mix: string;
}

/** A mix that a method asks for. */
export interface Wish extends Recipe {
  /** The name of a mix that exists and is to be poured once more. */
  again?: string | undefined;
}

/** What a method may look at: the brief's side of a world and what has been tasted, never the truth. */
export interface Evidence {
  world: Pick<World, 'space' | 'attributes' | 'batch' | 'seed'>;
  made: readonly MadeMix[];
  servings: readonly Serving[];
}

/**
 * A way to search for a target profile. `propose` gives the next `count` recipes, weighable as they stand;
 * `recommend` what to make if tasting stopped now. `whole` marks a method that plans all its mixes at once, so that
 * each number of mixes is a run of its own.
 */
export interface Method {
  name: string;
  whole?: boolean;
  propose(evidence: Evidence, count: number, stream: NamedStream): Wish[];
  recommend(evidence: Evidence, stream: NamedStream): Recipe;
}

/** Plain means of a mix over all its cups, by attribute; null where nobody answered. */
export function plainMeans(evidence: Evidence, mix: string): (number | null)[] {
  const rows = evidence.servings.filter((serving) => serving.mix === mix);
  return evidence.world.attributes.map((_, k) => {
    const scores = rows.map((row) => row.scores[k]).filter((score): score is number => score != null);
    return scores.length > 0 ? scores.reduce((a, b) => a + b, 0) / scores.length : null;
  });
}
