import { z } from 'zod';

const perhaps = z.number().nullable();

const JudgedAtMost = z.object({
  limit: perhaps,
  unit: z.enum(['mg/kg', 'mg/L', '% vol']),
  kind: z.enum(['maximum', 'banned', 'banned as such', 'declared', 'told']),
  drinks: z.enum(['any', 'alcoholic', 'non-alcoholic']),
  /** It speaks only of some such drinks: whether this is one is for the reader to say. */
  only: z.string().nullable(),
  jurisdiction: z.string(),
  source: z.string(),
  verified: z.boolean(),
  /** The maker's own figure. */
  own: z.literal(true).optional(),
  note: z.string(),
  /** Null where the rule cannot be judged by figures. */
  exceeded: z.boolean().nullable(),
});

/** One liquid from the bottle to the glass, and whether oils are likely to fall out of it. */
export const JudgedLink = z.object({
  place: z.string(),
  percentVol: perhaps,
  mgPerKg: perhaps,
  clearness: z.enum(['clear', 'look', 'can-fall-out', 'not-known']),
  says: z.string(),
  source: z.string(),
});

/** What a brief allows at the most, held against limits and caps before anything is mixed. */
export const Judgement = z.object({
  /** The strongest drink that the brief allows; null where drink, dose or concentrate are not named. */
  drink: z.object({ dosePerLitre: z.number(), percentVol: z.number(), density: z.number() }).nullable(),
  /** Substances of which limits speak, each at the most over the allowed region and doses. */
  substances: z.array(
    z.object({
      substance: z.string(),
      cas: z.string().nullable(),
      mostMgPerKg: z.number(),
      limits: z.array(JudgedAtMost),
    }),
  ),
  /** Where oils are likely to fall out, at the most oil and the highest dose that the brief allows. */
  chain: z.array(JudgedLink),
  /** What no limit could be held against, and why. */
  unchecked: z.array(z.object({ material: z.string(), because: z.string() })),
  ethanol: z.object({
    gramsPerSitting: perhaps,
    cap: perhaps,
    /** The jugs take their concentrate through a tenfold dilution in spirit, which is counted. */
    diluted: z.boolean(),
    exceeded: z.boolean().nullable(),
  }),
  cost: z.object({
    /** Of the concentrate in a litre of drink, cheapest and dearest ratio at the highest dose. */
    leastPerLitre: perhaps,
    mostPerLitre: perhaps,
    cap: perhaps,
    because: z.string().nullable(),
  }),
  warnings: z.array(z.string()),
});
export type Judgement = z.infer<typeof Judgement>;
