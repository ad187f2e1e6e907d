import { z } from 'zod';
import { Formula } from './formula-shape.ts';
import { JudgedLink, Judgement } from './judgement.ts';
import { NumberById } from './shapes.ts';

const perhaps = z.number().nullable();

/** A finished formula with what it is, what it does in the glass, what speaks for it and what to mind. */
export const Card = z.object({
  version: z.int().min(1),
  at: z.string(),
  name: z.string(),
  note: z.string(),
  /** One batch of the concentrate, the carrier last, as the bench commands read it. */
  formula: Formula,
  ratios: NumberById,
  grams: NumberById,
  settings: NumberById,
  predicted: z.record(
    z.string(),
    z.object({ mean: z.number(), interval: z.tuple([z.number(), z.number()]) }),
  ),
  chance: perhaps,
  distance: perhaps,
  /** Masses of all components in the batches that the card tells, grams. */
  sizes: z.array(z.number()),
  concentrate: z.object({
    carrier: z.string().nullable(),
    /** What one batch of the mix is made up to. */
    fillMillilitres: perhaps,
    /** Of the whole, the carrier counted. */
    grams: perhaps,
    density: perhaps,
    percentVol: perhaps,
    /** What a null above is for want of; what the brief states instead. */
    because: z.string(),
  }),
  drink: z
    .object({
      name: z.string(),
      dosePerLitre: z.number(),
      percentVol: z.number(),
      density: z.number(),
      cupMillilitres: z.number(),
    })
    .nullable(),
  cost: z.object({ perBatch: perhaps, perLitreOfDrink: perhaps, because: z.string() }),
  /** What limits speak of, in the drink at this dose. */
  substances: z.array(
    z.object({
      substance: z.string(),
      mgPerKg: perhaps,
      limits: Judgement.shape.substances.element.shape.limits,
    }),
  ),
  unchecked: z.array(z.object({ material: z.string(), because: z.string() })),
  /** Where along the chain oils are likely to fall out; cards from before have none. */
  chain: z.array(JudgedLink).optional(),
  cautions: z.array(z.object({ about: z.string(), text: z.string(), source: z.string() })),
  evidence: z.object({
    rounds: z.int(),
    sittings: z.int(),
    tasters: z.int(),
    answers: z.int(),
    /** What blind proofs of the formula came to, each in a sentence. */
    proofs: z.array(z.string()),
  }),
  /** Tastings of the kept concentrate that the card asks for. */
  ageing: z.array(z.object({ weeks: z.number(), due: z.string() })),
  warnings: z.array(z.string()),
});
export type Card = z.infer<typeof Card>;

/** What is published: the best of stored proposals, for such batches, to be tasted again at such ages. */
export const CardRequest = z.object({
  reading: z.string(),
  sizes: z.array(z.number().gt(0, 'a mass in grams above 0').max(1e6)).min(1).max(4).optional(),
  weeks: z.array(z.number().gt(0).max(520)).max(8).default([1, 4, 12]),
  note: z.string().max(300).default(''),
});

/** A stored card, with an address that opens it and the same as a square code. */
export const StoredCard = z.object({ card: Card, address: z.string(), qr: z.string() });
