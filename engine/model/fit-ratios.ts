import { NO_VARIANCES } from '../panel/random-effects.ts';
import { noTest } from '../panel/reading-types.ts';
import { linkedSessions, unlinkedWarning } from '../panel/session-links.ts';
import { ageFollows } from './age-follows.ts';
import { type AttributeContext, attributeContext, TermSets } from './attribute-context.ts';
import { checkInput } from './check-input.ts';
import type { AttributeFit, FitInput, FitStatus, RatioFit } from './fit-types.ts';
import { pickSurface } from './pick-surface.ts';
import { processModels } from './process/process-posterior.ts';
import { reportProcess } from './process/process-report.ts';
import { reportSurface } from './surface-report.ts';

/**
 * How the ratios move each attribute: Scheffé's polynomials on the as-weighed shares, with settings crossed, fitted
 * by restricted maximum likelihood with the panel's random effects; or, where asked for, a Gaussian process. What
 * cannot be estimated is null with a reason.
 *
 * @param input mixes as weighed, servings with scores in the order of `attributes`, the region's centroid and widths
 * @throws EngineError where shapes disagree or a cup's mix was never weighed
 *
 * Sources: Scheffé 1958 and 1963 for the models; Cox 1971 for the effects; Marquardt and Snee 1974 for R² centred;
 * Bates, Maechler, Bolker and Walker 2015 and Kuznetsova, Brockhoff and Christensen 2017 for fit and tests.
 */
export function fitRatios(input: FitInput): RatioFit {
  checkInput(input);
  const sets = new TermSets(input);
  const processes = ['process', 'auto'].includes(input.model) ? processModels(input) : null;
  return {
    attributes: input.attributes.map((attribute, at) => {
      const { context, status, reason } = attributeContext(input, at, { sets, processes });
      if (!context) return unfitted(attribute.id, status, reason);
      return processes && input.model === 'process'
        ? { ...reportProcess(processes, at, context, input), warnings: commonWarnings(context, input) }
        : fitTerms(context, input);
    }),
    warnings: [],
  };
}

function fitTerms(context: AttributeContext, input: FitInput): AttributeFit {
  const picked = pickSurface(context, input.model);
  if (!picked.surface) return unfitted(context.id, 'not-estimable', picked.reason);
  return {
    model: picked.surface.set.model,
    ...reportSurface(picked.surface, context, input),
    weights: picked.weights,
    warnings: [...picked.warnings, ...commonWarnings(context, input)],
  };
}

function commonWarnings(context: AttributeContext, input: FitInput): string[] {
  const { cups, unadjusted } = context.tasted;
  const unlinked = unlinkedWarning(linkedSessions(cups));
  const followed = ageFollows(context.tasted, input.servings);
  return [
    ...stillWarnings(context, input),
    ...(unlinked ? [unlinked] : []),
    ...(unadjusted ? [unadjusted] : []),
    ...(followed ? [followed] : []),
  ];
}

function stillWarnings({ still, tasted }: AttributeContext, { space }: FitInput): string[] {
  return space.settings.flatMap(({ id }, s) =>
    still[s]
      ? [
          `every mix was tasted at ${id} ${tasted.mixes[0]!.settings[s]}: what ${id} does is not known, and all holds there only`,
        ]
      : [],
  );
}

function unfitted(id: string, status: FitStatus, reason: string): AttributeFit {
  return {
    id,
    status,
    reason,
    model: null,
    terms: [],
    aliased: [],
    coefficients: [],
    blending: noTest(reason),
    effects: [],
    variance: NO_VARIANCES,
    lackOfFit: { ...noTest(reason), against: 'residual' },
    leaveOneMixOut: { rmse: null, q2: null, reason },
    influence: [],
    rSquared: null,
    logRestrictedLikelihood: null,
    weights: [],
    reference: null,
    reduced: [],
    warnings: [reason],
  };
}
