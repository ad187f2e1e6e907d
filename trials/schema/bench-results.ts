import { z } from 'zod';

/** What the JSON of the bench commands holds at least; more fields may stand beside them. */
const number = z.number();
const perhaps = number.nullable();
const Common = { warnings: z.array(z.string()), version: z.string() };

export const DiluteResult = z.looseObject({
  spiritGrams: number,
  waterGrams: number,
  spiritMillilitres: number,
  waterMillilitres: number,
  totalMillilitres: number,
  contractionMillilitres: number,
  ...Common,
});

export const StrengthResult = z.looseObject({
  grams: number,
  millilitres: perhaps,
  density: perhaps,
  percentVol: perhaps,
  substances: z.array(z.looseObject({ substance: z.string(), grams: number, share: number.min(0).max(1) })),
  ...Common,
});

export const WeighResult = z.looseObject({
  steps: z.array(
    z.looseObject({ material: z.string(), grams: number, showTotal: number, relativeError: number }),
  ),
  stocks: z.array(
    z.looseObject({ material: z.string(), strength: number, solvent: z.string(), grams: number }),
  ),
  ...Common,
});

const JudgedLimit = z.looseObject({
  limit: perhaps,
  jurisdiction: z.string(),
  source: z.string(),
  verified: z.boolean(),
  exceeded: z.boolean().nullable(),
});

export const DoseResult = z.looseObject({
  perDrink: z.looseObject({ millilitres: number, grams: perhaps, drops: perhaps }),
  drink: z.looseObject({
    percentVol: perhaps,
    substances: z.array(
      z.looseObject({ substance: z.string(), mgPerKg: perhaps, limits: z.array(JudgedLimit) }),
    ),
  }),
  unchecked: z.array(z.looseObject({ material: z.string(), because: z.string() })),
  ...Common,
});

export const ScaleResult = z.looseObject({
  lines: z.array(z.looseObject({ material: z.string(), grams: number })),
  grams: number,
  millilitres: perhaps,
  cost: perhaps,
  ...Common,
});
