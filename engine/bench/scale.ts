import { EngineError } from '../errors.ts';
import { toStep } from './balance.ts';
import { explodeLine } from './explode.ts';
import type { Line, Materials } from './material.ts';
import { explodeAll, strengthOf } from './strength.ts';
import { type Missing, onceEach, volumeOf } from './volume.ts';

export interface ScaleInput {
  lines: readonly Line[];
  materials: Materials;
  /** How much is wanted in the end. */
  to: { grams: number } | { millilitres: number };
  /** Round each mass to this step of the balance, grams; default: not rounded. */
  readability?: number | undefined;
  /** Share that stays in vessels and filters, 0 to below 1; so much more is made. Default 0. */
  loss?: number | undefined;
}

export interface ScaledLine {
  material: string;
  grams: number;
  /** By itself at 20 °C; null where its density is missing. */
  millilitres: number | null;
  cost: number | null;
}

export interface Scaled {
  lines: ScaledLine[];
  grams: number;
  millilitres: number | null;
  /** Null where a price is missing. */
  cost: number | null;
  missing: Missing[];
  warnings: string[];
}

/**
 * The same formula in another size: same ratios, masses, volumes and cost.
 *
 * @throws EngineError where the size is not above 0, or is a volume and a density is missing
 */
export function scaleFormula(input: ScaleInput): Scaled {
  const { materials, readability, loss = 0 } = input;
  if (!(loss >= 0 && loss < 1))
    throw new EngineError('bad-argument', 'loss', loss, 'a share from 0 to below 1');
  const factor = factorOf(input) / (1 - loss);
  const lines = input.lines.map((line) => {
    const grams = line.grams * factor;
    return { ...line, grams: readability === undefined ? grams : toStep(grams, readability) };
  });
  const whole = strengthOf(lines, materials);
  const scaled = lines.map((line) => scaledLine(line, materials));
  const costs = scaled.map(({ cost }) => cost);
  const unpriced = onceEach(
    lines
      .filter(({ pricePerGram, grams }) => pricePerGram === null && grams > 0)
      .map(({ name }) => ({ material: name, because: 'it has no price per gram' })),
  );
  return {
    lines: scaled,
    grams: whole.grams,
    millilitres: whole.millilitres,
    cost: unpriced.length > 0 ? null : costs.reduce<number>((sum, cost) => sum + (cost ?? 0), 0),
    missing: [...whole.missing, ...unpriced],
    warnings: [
      ...whole.warnings,
      ...unpriced.map(({ material, because }) => `no cost: ${material}: ${because}`),
      ...lines.filter((line, i) => line.grams === 0 && input.lines[i]!.grams > 0).map(vanished),
    ],
  };
}

function factorOf({ lines, materials, to }: ScaleInput): number {
  const wanted = 'grams' in to ? to.grams : to.millilitres;
  if (!(wanted > 0 && Number.isFinite(wanted)))
    throw new EngineError('bad-argument', 'to', wanted, 'a finite amount above 0');
  explodeAll(lines, materials);
  const whole = strengthOf(lines, materials);
  if ('grams' in to) return wanted / whole.grams;
  if (whole.millilitres !== null) return wanted / whole.millilitres;
  const why = whole.missing.map(({ material, because }) => `${material}: ${because}`).join('; ');
  throw new EngineError(
    'bad-argument',
    'to',
    `${wanted} mL`,
    `a mass, since the volume cannot be told (${why})`,
  );
}

function scaledLine(line: Line, materials: Materials): ScaledLine {
  const { millilitres } = volumeOf([{ line, portions: explodeLine(line, materials) }]);
  const { name, grams, pricePerGram } = line;
  return { material: name, grams, millilitres, cost: pricePerGram === null ? null : grams * pricePerGram };
}

function vanished({ name }: Line): string {
  return `${name}: rounded to nothing on this balance; weigh it as a stock`;
}
