import { z } from 'zod';

/**
 * What the JSON of each command holds at least; more fields may stand beside them. An entry that cannot be had is
 * null.
 */
const number = z.number();
const perhaps = number.nullable();
const words = z.array(z.string());
const byId = z.record(z.string(), number);
const interval = z.tuple([number, number]);
const probability = number.min(0).max(1);

const Test = z.looseObject({ f: perhaps, numDf: perhaps, denDf: perhaps, p: probability.nullable() });
const Variance = z.looseObject({
  assessor: perhaps,
  assessorByMix: perhaps,
  session: perhaps,
  residual: perhaps,
});
const Common = { warnings: words, version: z.string() };

const Made = { ratios: byId, grams: byId, settings: byId };

export const PlanResult = z.looseObject({
  mixes: z.array(
    z.looseObject({ mix: z.string(), ...Made, why: z.string(), repeats: z.string().optional() }),
  ),
  model: z.string(),
  terms: words,
  averageVariance: perhaps,
  logDeterminant: perhaps,
  maximumVariance: perhaps,
  corners: z.array(z.array(number)),
  cornersComplete: z.boolean(),
  rehearsal: z
    .looseObject({
      difficulty: z.enum(['easy', 'middling', 'hard']),
      says: z.string(),
      truths: z.int().min(1),
      each: z.int().min(1),
      stages: z.array(
        z.looseObject({
          ...{ rounds: z.int(), mixes: z.int(), cups: z.int(), found: z.int() },
          ...{ share: probability, standardError: number, interval, distance: number },
        }),
      ),
    })
    .optional(),
  seed: z.int(),
  ...Common,
});

export const OrderResult = z.looseObject({
  sittings: z.array(
    z.looseObject({
      assessor: z.string(),
      session: z.string(),
      cups: z.array(
        z.looseObject({ position: z.int().min(1), code: z.string().regex(/^[1-9]\d\d$/), mix: z.string() }),
      ),
    }),
  ),
  balance: z.looseObject({ positionSpread: z.int().min(0), followSpread: z.int().min(0) }),
  seed: z.int(),
  ...Common,
});

export const PanelResult = z.looseObject({
  attributes: z.array(
    z.looseObject({
      id: z.string(),
      variance: Variance,
      mixTest: Test,
      means: z.array(z.looseObject({ mix: z.string(), mean: number, standardError: perhaps })),
      differences: z.array(
        z.looseObject({
          a: z.string(),
          b: z.string(),
          difference: number,
          standardError: perhaps,
          denDf: perhaps,
          p: probability.nullable(),
        }),
      ),
      assessors: z.array(
        z.looseObject({
          assessor: z.string(),
          discrimination: Test,
          repeatability: perhaps,
          agreement: perhaps,
          scaling: perhaps,
        }),
      ),
    }),
  ),
  ...Common,
});

const Coefficient = z.looseObject({
  term: z.string(),
  estimate: number,
  standardError: perhaps,
  denDf: perhaps,
  p: probability.nullable(),
});

export const FitResult = z.looseObject({
  attributes: z.array(
    z.looseObject({
      id: z.string(),
      model: z.string().nullable(),
      coefficients: z.array(Coefficient),
      blending: Test,
      effects: z.array(
        z.looseObject({
          component: z.string(),
          change: perhaps,
          standardError: perhaps,
          p: probability.nullable(),
        }),
      ),
      variance: Variance,
      lackOfFit: Test.extend({ against: z.string() }),
      leaveOneMixOut: z.looseObject({ rmse: perhaps, q2: perhaps }),
      influence: z.array(
        z.looseObject({
          ...{ mix: z.string(), blend: z.string(), leverage: probability.nullable() },
          ...{ moves: perhaps, shift: perhaps, distance: perhaps },
        }),
      ),
      rSquared: perhaps,
      logRestrictedLikelihood: perhaps,
      weights: z.array(z.looseObject({ model: z.string(), weight: probability })),
      aliased: words,
      warnings: words,
    }),
  ),
  ...Common,
});

export const PredictResult = z.looseObject({
  rows: z.array(
    z.looseObject({
      name: z.string(),
      ratios: byId,
      settings: byId,
      attributes: z.array(
        z.looseObject({
          id: z.string(),
          mean: perhaps,
          standardError: perhaps,
          interval: interval.nullable(),
          chance: probability.nullable(),
        }),
      ),
      chance: probability.nullable(),
    }),
  ),
  seed: z.int(),
  ...Common,
});

const Predicted = z.record(z.string(), z.looseObject({ mean: number, interval }));

export const NextResult = z.looseObject({
  proposals: z.array(
    z.looseObject({
      mix: z.string(),
      ...Made,
      predicted: Predicted,
      chance: probability.nullable(),
      why: z.string(),
      again: z.literal(true).optional(),
      fromLeftovers: z
        .looseObject({
          pours: z.array(z.looseObject({ mix: z.string(), grams: number })),
          fresh: byId,
          ratios: byId,
          saves: z.looseObject({ grams: number, money: perhaps, weighings: z.int() }),
          says: z.string(),
        })
        .optional(),
    }),
  ),
  checkMix: z
    .looseObject({
      ...{ mix: z.string(), ...Made, predicted: Predicted, chance: probability.nullable(), why: z.string() },
      disagreement: z.looseObject({ attribute: z.string(), gap: number }),
    })
    .nullable(),
  best: z.looseObject({ ...Made, predicted: Predicted, chance: probability.nullable(), distance: perhaps }),
  formulas: z.array(
    z.looseObject({
      kind: z.enum(['roundest', 'most forgiving']),
      parts: z.array(z.int()),
      ratios: byId,
      settings: byId,
      chance: probability,
      costs: number,
      forgives: z.array(z.looseObject({ tool: z.string(), grams: number, chance: probability })),
      says: z.string(),
    }),
  ),
  stop: z.looseObject({
    advised: z.boolean(),
    because: z.string(),
    holdsBack: z.array(
      z.looseObject({ attribute: z.string(), miss: number, reachable: probability, says: z.string() }),
    ),
    limits: z.array(z.looseObject({ limit: z.string(), to: number, before: number, after: number })),
  }),
  seed: z.int(),
  ...Common,
});

export const DifferenceResult = z.looseObject({
  p: probability,
  proportionAbove: probability,
  interval,
  dPrime: perhaps,
  dPrimeStandardError: perhaps,
  needed: z.int().nullable(),
  ...Common,
});

export const DifferencePlanResult = z.looseObject({
  trials: z.int().nullable(),
  firstTrials: z.int().nullable(),
  needed: z.int().nullable(),
  power: probability.nullable(),
  ...Common,
});
