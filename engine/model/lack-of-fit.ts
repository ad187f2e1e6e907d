import { complementOfColumns } from '../numeric/orthogonal.ts';
import { joinColumns } from '../panel/mix-columns.ts';
import type { MixModel } from '../panel/mix-model.ts';
import { fitMixed } from '../panel/mixed/fit.ts';
import type { DegreesMethod, MixedFit } from '../panel/mixed/types.ts';
import { waldTest } from '../panel/mixed/wald-test.ts';
import { randomPartOf } from '../panel/random-effects.ts';
import { noTest } from '../panel/reading-types.ts';
import { spanOf } from '../region/affine-hull.ts';
import type { LackOfFit, RegionWidths } from './fit-types.ts';
import { gatherRecipes, type Recipes } from './recipes.ts';
import { type Surface, termRows } from './surface.ts';

export const BLEND = 'blend';
/** From this many fresh weighings on, differences between bottles are a noise of their own. */
const ENOUGH_REPEATS = 2;

/**
 * Tests that the means of the mixes lie in the space of the terms: the Wald F of the contrasts of the means that
 * are zero for every surface of the model. Where two or more blends are fresh weighings of others, recipes take
 * the place of mixes, a random effect of the blend is fitted, and the test is against it.
 */
export function lackOfFit(
  surface: Surface,
  mixModel: MixModel,
  region: RegionWidths,
  df: DegreesMethod,
): LackOfFit {
  const recipes = gatherRecipes(surface.tasted.mixes, region);
  return recipes.freshWeighings >= ENOUGH_REPEATS
    ? { ...againstBlends(surface, recipes, df), against: 'blend' }
    : { ...againstCups(surface, mixModel.fit, df), against: 'residual' };
}

/** The test with mix as a factor, against the noise of cups. */
export function againstCups({ rows, tasted, set }: Surface, fit: MixedFit, df: DegreesMethod) {
  return testMeans(fit, { rows, count: tasted.mixes.length, terms: set.names.length }, df);
}

/** Fixed: one mean a recipe and setting (and the reference); random: the panel's effects and the blend. */
function againstBlends({ tasted, set }: Surface, recipes: Recipes, df: DegreesMethod) {
  const { cups, reference } = tasted;
  const width = recipes.points.length + Number(reference >= 0);
  const fixed = new Float64Array(cups.y.length * width);
  cups.mixOf.forEach((mix, i) => {
    fixed[i * width + (mix === reference ? width - 1 : recipes.pointOf[mix]!)] = 1;
  });
  const blend = {
    name: BLEND,
    levels: cups.mixOf.map((mix) => (mix === reference ? recipes.blends : recipes.blendOf[mix]!)),
    count: recipes.blends + 1,
  };
  const fit = fitMixed({
    y: cups.y,
    fixed: joinColumns(fixed, cups.beside, cups.y.length),
    names: Array.from({ length: width + (cups.beside?.names.length ?? 0) }, (_, j) => `recipe ${j}`),
    random: [...randomPartOf(cups).factors, blend],
  });
  const rows = termRows(set, { mixes: recipes.points });
  return testMeans(fit, { rows, count: recipes.points.length, terms: set.names.length }, df);
}

/** `rows` holds the terms at each mean, count × terms; the means are the first coefficients of the fit. */
function testMeans(
  fit: MixedFit,
  means: { rows: Float64Array; count: number; terms: number },
  df: DegreesMethod,
) {
  const { rows, count, terms } = means;
  if (count <= terms) return noTest(`${count} different mixes and ${terms} terms leave nothing to test`);
  if (fit.status !== 'estimated') return noTest(fit.reason ?? 'mix as a factor leaves no residual');
  const columns = Array.from({ length: terms }, (_, j) =>
    Array.from({ length: count }, (_, m) => rows[m * terms + j]!),
  );
  const contrasts = complementOfColumns(spanOf(columns), count).map((weights) => {
    const row = new Float64Array(fit.p);
    row.set(weights);
    return row;
  });
  const { f, numDf, denDf, p, reason } = waldTest(fit, contrasts, df);
  return f === null || reason !== null ? noTest(reason ?? 'cannot be tested') : { f, numDf, denDf, p };
}
