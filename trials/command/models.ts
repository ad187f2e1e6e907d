import { SCHEFFE_MODELS } from '../../engine/design/terms.ts';
import type { ModelName } from '../../engine/model/fit-types.ts';

/** What may stand after `--model` where scores are fitted. */
export type FittedModel = ModelName | 'auto';

export const FITTED_MODELS: readonly FittedModel[] = ['auto', ...SCHEFFE_MODELS, 'log-ratio', 'process'];
