import { z } from 'zod';
import { CautionWords } from './caution-words.ts';
import { ASIDE_FORMS, SCALE_FORMS } from './scale-form.ts';

/** Ids of components, settings and attributes. */
export const Id = z
  .string()
  .regex(/^[A-Za-z][A-Za-z0-9_-]{0,39}$/, '1 to 40 letters, digits, _ or -, beginning with a letter');

/** Names of mixes, blends, assessors and sessions: any text without control characters, counted in characters. */
export const Name = z
  .string()
  .regex(/^[^\p{Cc}\p{Cs}]{1,80}$/u, '1 to 80 characters, none of them a control character');

const finite = z.number();
const share = finite.min(0, 'a number from 0 to 1').max(1, 'a number from 0 to 1');
const label = (most: number) =>
  z
    .string()
    .regex(
      new RegExp(`^[^\\p{Cc}\\p{Cs}]{1,${most}}$`, 'u'),
      `1 to ${most} characters, no control character`,
    );

/** A name for people; `checkBrief` puts the id where it is left out. */
const title = label(200).default('');

export const Component = z.object({
  id: Id,
  name: title,
  low: share.default(0),
  high: share.default(1),
  material: label(200).optional(),
  pricePerGram: finite.min(0).optional(),
  stocks: z.array(finite.gt(0).lt(100)).optional(),
  strength: finite.gt(0).max(100).default(100),
  solvent: label(200).optional(),
});

export const Bound = z.object({
  of: z.record(z.string(), finite),
  least: finite.optional(),
  most: finite.optional(),
});

export const Setting = z.object({
  id: Id,
  name: title,
  unit: label(40).optional(),
  low: finite,
  high: finite,
  acts: z.enum(['each', 'whole']).default('each'),
});

export const Batch = z.object({
  grams: finite.gt(0),
  readability: finite.gt(0),
  tolerance: finite.gt(0).lt(1).optional(),
  /** Standard deviation of one weighing, grams; worked out where `weighings` are given. Absent: rounding alone. */
  repeatability: finite.gt(0).optional(),
  /** What the balance showed when one load was weighed again and again, grams: ten times at least (USP <41>). */
  weighings: z.array(finite.gt(0)).min(10).max(50).optional(),
});

export const AttributeTarget = z.union(
  [finite, z.tuple([finite, finite]), z.enum(['most', 'least', 'reference'])],
  'a number, a range [low, high], "most", "least" or "reference"',
);

export const BriefAttribute = z.object({
  id: Id,
  name: title,
  scale: z.tuple([finite, finite]),
  target: AttributeTarget.optional(),
  tolerance: finite.gt(0).optional(),
  weight: finite.gt(0).default(1),
  /**
   * How tasters answer: a `line` without numbers, `points` (whole numbers), `categories` (a word for each whole
   * number), `liking` (nine words, scale [1, 9]), `just-about-right` (too little to too much, the middle is right).
   * Left out: points on short scales of whole numbers, else a line.
   */
  form: z.enum(SCALE_FORMS).optional(),
  /** Words on the scale: the two ends of a line or of points, one for each step of the other forms. */
  words: z.array(label(60)).max(21).optional(),
});

/** What is asked beside the scales; it is read by itself and enters no model. */
export const Aside = z.object({
  id: Id,
  name: title,
  /** `ranking`: all cups put in order once, after the last. `describe`: words for each cup, free or from `words`. */
  form: z.enum(ASIDE_FORMS),
  /** `ranking`: the two ends, least first. `describe`: words to tap. */
  words: z.array(label(60)).max(40).optional(),
});

export const Panel = z.object({
  assessors: z.int().min(1).max(1000),
  cupsPerSitting: z.int().min(1).max(100),
  replicates: z.int().min(1).max(20).default(1),
  /** The taste lingers (bitter, oily, tenacious): two minutes between cups and fewer of them. */
  lingers: z.boolean().optional(),
});

export const Concentrate = z.object({
  carrier: label(200),
  percentVol: finite.min(0).max(100),
  fillMillilitres: finite.gt(0),
});

export const Drink = z.object({
  name: z.string().max(200).default(''),
  cupMillilitres: finite.gt(0),
  percentVol: finite.min(0).max(100).default(0),
  density: finite.gt(0).default(1),
  dosePerLitre: z
    .union([finite.gt(0), z.object({ setting: Id })], 'a number above 0 or {"setting": id}')
    .optional(),
});

export const Caps = z.object({
  ethanolGramsPerSitting: finite.min(0).optional(),
  costPerLitre: finite.min(0).optional(),
  jurisdictions: z.array(z.string().min(1).max(20)).optional(),
});

/** `brief.json`, shape only; what holds between its fields is judged by `checkBrief`. */
export const Brief = z.object({
  format: z.literal('brief/1'),
  name: title,
  /** Words to find the trial by. */
  tags: z.array(label(40)).max(20).optional(),
  /** What its prices and costs are in, as people write it: EUR, £. It is only shown; nothing is converted. */
  currency: label(12).optional(),
  components: z.array(Component).min(2).max(12),
  bounds: z.array(Bound).default([]),
  settings: z.array(Setting).max(4).default([]),
  batch: Batch,
  attributes: z.array(BriefAttribute).min(1),
  /** Questions beside the scales: rankings and descriptions. */
  asides: z.array(Aside).max(10).default([]),
  panel: Panel,
  concentrate: Concentrate.optional(),
  drink: Drink.optional(),
  caps: Caps.optional(),
  /** What tasters and the bench must be told before anything is tasted; shown word for word. */
  cautions: z
    .array(z.object({ to: z.enum(['taster', 'bench', 'label']), text: z.string().min(1).max(500) }))
    .default([]),
  /** The tasters' own words for what the workbench tells them by itself. */
  cautionWords: CautionWords.optional(),
});
export type Brief = z.infer<typeof Brief>;
