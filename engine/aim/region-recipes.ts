import type { LinearSolver } from '../numeric/linear-solver.ts';
import type { Random } from '../numeric/random.ts';
import { isAllowed, type Region } from '../region/region.ts';
import { samplePoints } from '../region/sampling.ts';
import { type Batch, nearestWeighable, type Stocks } from '../region/weighable.ts';
import { type WeighingGrid, weighingGrid } from '../region/weighing-grid.ts';
import type { Recipe, RecipeSource, WeighableRecipe } from './recipe.ts';
import { offeredSetting } from './setting-steps.ts';

/** Recipes of a region, weighable on a given balance. */
export class RegionRecipes implements RecipeSource {
  readonly #region: Region;
  readonly #grid: WeighingGrid;
  readonly #solver: LinearSolver;

  constructor(region: Region, batch: Batch, solver: LinearSolver, stocks: Stocks = {}) {
    this.#region = region;
    this.#grid = weighingGrid(region.space, batch, stocks);
    this.#solver = solver;
  }

  /** The nearest weighable recipe, or null where no whole number of steps fits the region. */
  near(recipe: Recipe): WeighableRecipe | null {
    const mix = nearestWeighable(this.#region, recipe.shares, this.#grid, this.#solver);
    if (!mix) return null;
    const settings = this.#region.space.settings.map((setting, s) =>
      offeredSetting(setting, recipe.settings[s]!),
    );
    const { shares, grams, weigh, steps } = mix;
    return { shares, grams, weigh, settings, key: `${steps.join()} ${settings.join()}` };
  }

  /** Whether the region holds it. */
  allows({ shares }: Recipe): boolean {
    return isAllowed(this.#region, shares, 1e-9);
  }

  /**
   * Distinct recipes over the whole region: corners, points half-way to them, and uniform ones, in turn; settings
   * at their ends, in the middle or uniform.
   */
  spread(count: number, random: Random): WeighableRecipe[] {
    const { points } = this.#region.corners;
    const corners = random.shuffle(points).slice(0, Math.ceil(count / 4));
    const uniform = samplePoints(this.#region, random, count);
    const ideas = [
      ...corners,
      ...corners.map((corner, i) => between(corner, uniform[i % uniform.length]!, 0.5)),
      ...uniform,
    ];
    return this.#distinct(ideas.map((shares) => ({ shares, settings: this.#drawSettings(random) }))).slice(
      0,
      count,
    );
  }

  /** Distinct recipes near one, each part of the way toward a uniform one. */
  around(recipe: Recipe, reach: number, count: number, random: Random): WeighableRecipe[] {
    const ends = samplePoints(this.#region, random, count);
    const ideas = ends.map((end) => {
      const by = reach * (0.3 + 0.7 * random.uniform());
      return {
        shares: between(recipe.shares, end, by),
        settings: this.#nudged(recipe.settings, reach, random),
      };
    });
    return this.#distinct(ideas);
  }

  #distinct(ideas: readonly Recipe[]): WeighableRecipe[] {
    const found = new Map<string, WeighableRecipe>();
    for (const idea of ideas) {
      const recipe = this.near(idea);
      if (recipe && !found.has(recipe.key)) found.set(recipe.key, recipe);
    }
    return [...found.values()];
  }

  #drawSettings(random: Random): number[] {
    return this.#region.space.settings.map(({ low, high }) => {
      const place = random.integer(4);
      if (place === 0) return random.uniform() < 0.5 ? low : high;
      return low + (high - low) * random.uniform();
    });
  }

  #nudged(settings: readonly number[], reach: number, random: Random): number[] {
    return this.#region.space.settings.map(
      ({ low, high }, s) => settings[s]! + reach * (high - low) * random.normal() * 0.5,
    );
  }
}

function between(a: readonly number[], b: readonly number[], by: number): number[] {
  return a.map((share, i) => share + by * (b[i]! - share));
}
