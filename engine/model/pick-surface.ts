import { SCHEFFE_MODELS } from '../design/terms.ts';
import { EngineError } from '../errors.ts';
import type { AttributeContext } from './attribute-context.ts';
import { chooseModel } from './choose-model.ts';
import type { ModelName, TermModel } from './fit-types.ts';
import { againstCups } from './lack-of-fit.ts';
import { fitSurface, type Surface } from './surface.ts';

/** A misfit as clear as this moves the choice to a model that cannot be tested by leaving mixes out. */
const CLEAR_MISFIT = 0.01;

export interface PickedSurface {
  surface: Surface;
  weights: { model: ModelName; weight: number }[];
  warnings: string[];
}

/** The surface of the model asked for, or of the one that predicts best. */
export function pickSurface(
  context: AttributeContext,
  model: ModelName | 'auto',
): PickedSurface | { surface: null; reason: string } {
  if (model === 'auto') return pickBest(context);
  if (model === 'process')
    throw new EngineError('bad-argument', 'model', model, 'a model that is a sum of terms');
  return fixedChoice(context, model, []);
}

function pickBest(context: AttributeContext): PickedSurface | { surface: null; reason: string } {
  const choice = chooseModel(context.tasted, context.summary, context);
  if (!choice) return fixedChoice(context, 'linear', []);
  const outcome = fitSurface(context.tasted, context.setOf(choice.best));
  if (!outcome.surface) return outcome;
  const richer = choice.untested.find((m) => richness(m) > richness(choice.best));
  const { p } = againstCups(outcome.surface, context.mixModel.fit, 'satterthwaite');
  if (richer && p !== null && p < CLEAR_MISFIT) {
    const weights = choice.weights.filter(({ model }) => model === 'process');
    const averaged = weights.length > 0 ? { weights: [{ model: 'process' as const, weight: 1 }] } : {};
    return {
      ...fixedChoice(context, richer, [
        `the ${choice.best} model clearly misses the means, so the ${richer} model is used although there are too few ` +
          'mixes to test it by leaving one out',
      ]),
      ...averaged,
    };
  }
  return { surface: outcome.surface, weights: choice.weights, warnings: [] };
}

/** Place among the polynomials; below all of them for any other model. */
function richness(model: TermModel): number {
  return (SCHEFFE_MODELS as readonly string[]).indexOf(model);
}

function fixedChoice(context: AttributeContext, model: TermModel, warnings: string[]) {
  const outcome = fitSurface(context.tasted, context.setOf(model));
  return outcome.surface ? { surface: outcome.surface, weights: [{ model, weight: 1 }], warnings } : outcome;
}
