import type { Serving } from '../../engine/panel/observations.ts';
import { namedStream } from '../../trials/demo/named-stream.ts';
import type { Evidence, MadeMix, Method, Recipe, Wish } from './baselines/baseline.ts';
import type { PouredMix, World } from './world.ts';

/** Mixes after which a search is judged, as in the benchmark; each is the end of a round. */
export const STAGES = [8, 12, 16, 20] as const;
const MIXES_PER_SITTING = 4;

/** Where a search stood when so many mixes had been tasted. */
export interface Standing {
  mixes: number;
  cups: number;
  grams: number;
  recommended: Recipe;
  /** Distance of the recommended ratio above the best attainable, in points of 100, as this panel scores. */
  excess: number;
  /** The distance for tasters at large; null where targets are numbers. */
  atLarge: number | null;
  matches: boolean;
}

/**
 * Plays a method through a world: rounds of 8, 4, 4 and 4 mixes, weighed with slips, tasted in sittings of four by
 * the world's panel; a mix that is asked for again comes out of its own bottle. A method that plans all at once plays each stage as a run of its own.
 */
export function play(world: World, method: Method, stages: readonly number[] = STAGES): Standing[] {
  if (method.whole) return stages.map((mixes) => playRounds(world, method, [mixes])[0]!);
  return playRounds(world, method, stages);
}

function playRounds(world: World, method: Method, stages: readonly number[]): Standing[] {
  const made: MadeMix[] = [];
  const poured: PouredMix[] = [];
  const servings: Serving[] = [];
  let tasted = 0;
  return stages.map((mixes) => {
    const stream = namedStream(world.seed, 'method', method.name, mixes);
    const evidence: Evidence = { world, made, servings };
    const pours = method.propose(evidence, mixes - tasted, stream).map((wish) => {
      const old = poured.find(({ mix }) => mix === wish.again);
      if (old) return old;
      const { shown, real } = makeMix(world, wish, made.length + 1);
      made.push(shown);
      poured.push(real);
      return real;
    });
    tasted = mixes;
    servings.push(...tasteInSittings(world, pours, mixes));
    const recommended = method.recommend(evidence, stream);
    return standing(world, recommended, { mixes, cups: servings.length, made: made.length });
  });
}

function standing(
  world: World,
  recommended: Recipe,
  so: { mixes: number; cups: number; made: number },
): Standing {
  const { shares, settings } = recommended;
  return {
    mixes: so.mixes,
    cups: so.cups,
    grams: so.made * world.batch.grams,
    recommended,
    excess: world.distance(shares, settings) - world.bestDistance,
    atLarge: world.distanceAtLarge(shares, settings),
    matches: world.matches(shares, settings),
  };
}

function makeMix(world: World, recipe: Wish, number: number): { shown: MadeMix; real: PouredMix } {
  const mix = `m${number}`;
  const weighed = world.weigh(
    recipe.shares.map((share) => share * world.batch.grams),
    mix,
  );
  const common = { mix, settings: recipe.settings };
  return {
    shown: { ...common, shares: sharesOf(weighed.shown) },
    real: { ...common, shares: sharesOf(weighed.real) },
  };
}

function tasteInSittings(world: World, mixes: readonly PouredMix[], seed: number): Serving[] {
  const sittings = Math.ceil(mixes.length / MIXES_PER_SITTING);
  return Array.from({ length: sittings }, (_, s) => {
    const some = mixes.slice(s * MIXES_PER_SITTING, (s + 1) * MIXES_PER_SITTING);
    return world.taste(some, { session: `round to ${seed}, sitting ${s + 1}`, seed });
  }).flat();
}

function sharesOf(grams: readonly number[]): number[] {
  const total = grams.reduce((a, b) => a + b, 0);
  return grams.map((g) => g / total);
}
