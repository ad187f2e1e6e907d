import type { Random } from '../numeric/random.ts';
import type { Weighing } from '../region/weighable.ts';

/** A blend and its settings: shares in the order of the space's components, settings in their natural units. */
export interface Recipe {
  shares: readonly number[];
  settings: readonly number[];
}

/** A recipe that can be weighed as it stands. */
export interface WeighableRecipe extends Recipe {
  grams: readonly number[];
  /** What to put on the balance, where some component has stocks. */
  weigh?: readonly Weighing[] | undefined;
  /** The same for the same grams and settings. */
  key: string;
}

/** Where recipes come from: every one feasible, weighable and with settings that can be asked for. */
export interface RecipeSource {
  /** The nearest weighable recipe, or null where no whole number of steps fits the region. */
  near(recipe: Recipe): WeighableRecipe | null;
  /** Whether the brief allows it, weighable or not. */
  allows(recipe: Recipe): boolean;
  /** Distinct recipes over the whole region, its corners among them. */
  spread(count: number, random: Random): WeighableRecipe[];
  /** Distinct recipes near one, up to `reach` of the way toward others of the region. */
  around(recipe: Recipe, reach: number, count: number, random: Random): WeighableRecipe[];
}
