import { z } from 'zod';

const text = (most: number) =>
  z
    .string()
    .regex(
      new RegExp(`^[^\\p{Cc}\\p{Cs}]{1,${most}}$`, 'u'),
      `1 to ${most} characters, no control character`,
    );

/** One line of a finished formula; what it leaves out comes from the shelf. */
const FormulaLine = z.object({
  material: text(200),
  grams: z.number().min(0, 'a mass in grams, 0 or more').max(1e9),
  /** Percent by mass of the pure substance in what is weighed. */
  strength: z
    .number()
    .gt(0, 'a percentage above 0 and up to 100')
    .max(100, 'a percentage above 0 and up to 100')
    .default(100),
  solvent: text(200).optional(),
  /** For spirits: percent ethanol by volume at 20 °C. */
  percentVol: z
    .number()
    .min(0, 'a percentage from 0 to 100')
    .max(100, 'a percentage from 0 to 100')
    .optional(),
  /** g/mL at 20 °C. */
  density: z.number().gt(0).max(25, 'a density in g/mL, at most 25: 850 kg/m³ are 0.85 g/mL').optional(),
  pricePerGram: z.number().min(0).optional(),
});

/** `formula.json`: a finished formula. */
export const Formula = z.object({
  format: z.literal('formula/1'),
  name: text(200).default('Untitled'),
  /** What its prices are in, as people write it; only shown. */
  currency: text(12).optional(),
  lines: z.array(FormulaLine).min(1),
});
export type Formula = z.infer<typeof Formula>;
