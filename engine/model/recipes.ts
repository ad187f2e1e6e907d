import type { RegionWidths } from './fit-types.ts';
import type { TastedMix } from './tasted.ts';

/** Two blends are weighings of one recipe when no share differs by more than this part of the region's width. */
const SAME_SHARE = 0.03;
/** The same for a share that the region fixes. */
const SAME_FIXED = 0.01;

/** Mixes gathered by what was meant: blends that are weighings of one recipe, each at its settings. */
export interface Recipes {
  /** Distinct recipe and settings; shares are the mean of the weighings. */
  points: TastedMix[];
  /** Place among `points` of each mix. */
  pointOf: number[];
  blends: number;
  /** Number of the blend of each mix. */
  blendOf: number[];
  /** Blends beyond the first of their recipe. */
  freshWeighings: number;
}

/** Finds blends that repeat each other from their as-weighed shares: first come first, within weighing error. */
export function gatherRecipes(mixes: readonly TastedMix[], region: RegionWidths): Recipes {
  const blends = [...new Set(mixes.map(({ blend }) => blend))];
  const sharesOf = new Map(mixes.map(({ blend, shares }) => [blend, shares]));
  const recipes: { first: readonly number[]; blends: string[] }[] = [];
  for (const blend of blends) {
    const shares = sharesOf.get(blend)!;
    const known = recipes.find(({ first }) => isSameRecipe(first, shares, region));
    if (known) known.blends.push(blend);
    else recipes.push({ first: shares, blends: [blend] });
  }
  const recipeOf = new Map(recipes.flatMap((recipe, r) => recipe.blends.map((blend) => [blend, r] as const)));
  const keys = mixes.map(({ blend, coded }) => `${recipeOf.get(blend)!}|${coded.join()}`);
  const distinct = [...new Set(keys)];
  return {
    points: distinct.map((key) => averageOf(mixes.filter((_, m) => keys[m] === key))),
    pointOf: keys.map((key) => distinct.indexOf(key)),
    blends: blends.length,
    blendOf: mixes.map(({ blend }) => blends.indexOf(blend)),
    freshWeighings: blends.length - recipes.length,
  };
}

function isSameRecipe(a: readonly number[], b: readonly number[], region: RegionWidths): boolean {
  return a.every((share, i) => {
    const width = region.high[i]! - region.low[i]!;
    return Math.abs(share - b[i]!) <= (width > 0 ? SAME_SHARE * width : SAME_FIXED);
  });
}

function averageOf(mixes: readonly TastedMix[]): TastedMix {
  const first = mixes[0]!;
  const shares = first.shares.map((_, i) => mixes.reduce((sum, m) => sum + m.shares[i]!, 0) / mixes.length);
  return { ...first, shares };
}
