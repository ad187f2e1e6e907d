import { coverFor } from '../model/chance.ts';
import type { PanelPosterior } from '../model/posterior-types.ts';
import type { Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import { type DistanceDraws, distanceDraws, expectedDistance, matchChance } from './distance-draws.ts';
import type { Recipe } from './recipe.ts';

/** What others pour with, and how far a pour may land off the mark with it, in grams. */
export interface PouringTool {
  tool: 'kitchen balance' | 'dropper';
  grams: number;
}

/** A formula that others can weigh, near the best ratio. */
export interface Formula {
  kind: 'roundest' | 'most forgiving';
  /** `5 : 4 : 1`, in the order of the components; whole parts. */
  parts: readonly number[];
  ratios: Record<string, number>;
  settings: Record<string, number>;
  chance: number;
  /** Chance of the best ratio less its own, both from the same draws. */
  costs: number;
  /** By tool: the chance that is left where every pour may land off by so much either way. */
  forgives: (PouringTool & { chance: number })[];
  says: string;
}

export interface FormulaSetup {
  space: BlendSpace;
  attributes: readonly Attribute[];
  posterior: PanelPosterior;
  /** Mass of the mix that is weighed, in grams. */
  grams: number;
  /** Recipes spread over the region, which `most` and `least` are compared with in each draw. */
  cover: readonly Recipe[];
  allows(recipe: Recipe): boolean;
  random: Random;
}

/** A balance that shows tenths, and one drop, each off by one step. Common practice, no published source. */
const TOOLS: readonly PouringTool[] = [
  { tool: 'kitchen balance', grams: 0.1 },
  { tool: 'dropper', grams: 0.03 },
];
/** Parts beyond so many in all are no rounder than grams. */
const MOST_PARTS = 40;
/** Chances this near the best one count as nearly the same. */
const NEARLY = 0.03;
const DRAWS = 500;
/** And distances no farther than this beyond the best one's, in points of 100. */
const FARTHER = 0.5;
const SLIPS = 10;
const JUDGED = 4;

/**
 * Among ratios of whole parts with nearly the best chance: the roundest (fewest parts in all) and the most forgiving
 * (highest chance after the slips of a kitchen balance, drawn uniformly), with what each costs in chance. Each
 * comparison is made on the same joint draws.
 * @returns the roundest, and the most forgiving where that is another; none where no whole parts come near
 */
export function roundFormulas(best: Recipe, setup: FormulaSetup): Formula[] {
  const candidates = wholeParts(best, setup);
  const first = drawn([best, ...candidates.map(({ recipe }) => recipe)], setup);
  const own = matchChance(first, 0);
  const far = expectedDistance(first, 0) + FARTHER;
  const near = candidates
    .map((one, i) => ({ ...one, chance: matchChance(first, i + 1), at: i + 1 }))
    .filter(({ chance, at }) => chance >= own - NEARLY && expectedDistance(first, at) <= far);
  if (near.length === 0) return [];
  const judged = [...new Set([...near.slice(0, JUDGED / 2), ...[...near].sort(byChance)])]
    .slice(0, JUDGED)
    .map((one): JudgedCandidate => ({ ...one, forgives: forgivenBy(one, setup) }));
  const [roundest] = judged;
  const forgiving = judged.reduce((a, b) => (b.forgives[0]!.chance > a.forgives[0]!.chance ? b : a));
  const clearly = forgiving.forgives[0]!.chance > roundest!.forgives[0]!.chance + 0.01;
  return [
    formula('roundest', roundest!, own, setup.space),
    ...(clearly ? [formula('most forgiving', forgiving, own, setup.space)] : []),
  ];
}

interface Candidate {
  recipe: Recipe;
  parts: number[];
}

interface JudgedCandidate extends Candidate {
  chance: number;
  forgives: Formula['forgives'];
}

function byChance(a: { chance: number }, b: { chance: number }): number {
  return b.chance - a.chance;
}

/** The nearest whole parts for every number of parts in all, the fewest first; each ratio once, inside the region. */
function wholeParts({ shares, settings }: Recipe, { allows }: FormulaSetup): Candidate[] {
  const found = new Map<string, Candidate>();
  for (let total = 2; total <= MOST_PARTS; total++) {
    const parts = nearestParts(shares, total);
    if (greatestDivisor(parts) > 1) continue;
    const recipe = { shares: parts.map((p) => p / total), settings };
    if (allows(recipe)) found.set(parts.join(), { recipe, parts });
  }
  return [...found.values()];
}

/** Whole numbers that sum to `total`, nearest to the shares by largest remainder. */
function nearestParts(shares: readonly number[], total: number): number[] {
  const parts = shares.map((share) => Math.floor(share * total));
  const rest = total - parts.reduce((a, b) => a + b, 0);
  const order = shares
    .map((share, i) => ({ i, over: share * total - parts[i]! }))
    .sort((a, b) => b.over - a.over || a.i - b.i);
  for (const { i } of order.slice(0, rest)) parts[i]!++;
  return parts;
}

function greatestDivisor(parts: readonly number[]): number {
  return parts.reduce((a, b) => {
    let [x, y] = [a, b];
    while (y > 0) [x, y] = [y, x % y];
    return x;
  }, 0);
}

/** The chance that is left with each tool: what slips take away, in draws of their own, off the chance told. */
function forgivenBy(
  { recipe, chance }: Candidate & { chance: number },
  setup: FormulaSetup,
): Formula['forgives'] {
  const distances = drawn([recipe, ...TOOLS.flatMap((tool) => slips(recipe, tool, setup))], setup);
  const whole = matchChance(distances, 0);
  return TOOLS.map((tool, t) => {
    let left = 0;
    for (let i = 0; i < SLIPS; i++) left += matchChance(distances, 1 + t * SLIPS + i) / SLIPS;
    return { ...tool, chance: Math.min(chance, Math.max(0, chance + left - whole)) };
  });
}

/** The recipe as it comes out with a tool, several times: every pour off by up to one step either way. */
function slips({ shares, settings }: Recipe, tool: PouringTool, { grams, random }: FormulaSetup): Recipe[] {
  return Array.from({ length: SLIPS }, () => {
    const poured = shares.map((share) => {
      return share > 0 ? Math.max(0, share * grams + tool.grams * (2 * random.uniform() - 1)) : 0;
    });
    const total = poured.reduce((a, b) => a + b, 0);
    return { shares: poured.map((g) => g / total), settings };
  });
}

function drawn(
  recipes: readonly Recipe[],
  { attributes, posterior, cover, random }: FormulaSetup,
): DistanceDraws {
  const by = { points: recipes, cover: coverFor(attributes, cover) };
  const scores = posterior.drawsApart(by, DRAWS, random);
  return distanceDraws(attributes, scores, recipes.length);
}

function formula(kind: Formula['kind'], one: JudgedCandidate, best: number, space: BlendSpace): Formula {
  const { parts, recipe, chance, forgives } = one;
  const byId = (list: readonly { id: string }[], values: readonly number[]) =>
    Object.fromEntries(list.map(({ id }, i) => [id, values[i]!]));
  const costs = best - chance;
  return {
    kind,
    parts,
    ratios: byId(space.components, recipe.shares),
    settings: byId(space.settings, recipe.settings),
    chance,
    costs,
    forgives,
    says: `${parts.join(' : ')}, ${saysCost(costs)}; ${saysForgives(forgives, chance)}`,
  };
}

function saysCost(costs: number): string {
  const hundredths = Math.round(100 * costs);
  return hundredths <= 0 ? 'at no cost in chance' : `for ${hundredths} in 100 of the chance`;
}

/** `forgives 0.1 g` where hardly any chance is lost to it. */
function saysForgives(forgives: Formula['forgives'], chance: number): string {
  const forgiven = forgives.find((one) => one.chance >= chance - NEARLY);
  if (forgiven) return `forgives ${forgiven.grams} g a pour`;
  const worst = forgives[forgives.length - 1]!;
  return `${worst.grams} g off a pour leaves ${Math.round(100 * worst.chance)} in 100`;
}
