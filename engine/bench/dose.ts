import { EngineError } from '../errors.ts';
import { limitWarnings } from './limit-warnings.ts';
import { type JudgedLimit, judgeLimits, type Limit } from './limits.ts';
import type { Line, Materials } from './material.ts';
import { reachingOf } from './reaching.ts';
import { explodeAll, strengthOf } from './strength.ts';
import { type Unchecked, uncheckedOf } from './unchecked.ts';

export interface DoseInput {
  lines: readonly Line[];
  materials: Materials;
  limits: readonly Limit[];
  /** Millilitres of concentrate in a litre of syrup. */
  syrupDose: number;
  /** Millilitres of syrup in a drink. */
  syrupPerDrink: number;
  /** Millilitres of a drink as drunk. */
  drink: number;
  /** g/mL of the drink; default 1. */
  drinkDensity?: number | undefined;
  /** Percent by volume that the drink has without the concentrate; default 0. */
  drinkPercentVol?: number | undefined;
  /** Grams of one drop out of this bottle; no drop is universal. */
  dropGrams?: number | undefined;
}

export interface SubstanceInDrink {
  substance: string;
  cas: string | null;
  mgPerKg: number | null;
  /** Oils and extracts that bring it, each at the most that it may hold; the figure above counts them in. */
  within: { material: string; mgPerKg: number | null }[];
  limits: JudgedLimit[];
}

export interface Dose {
  perDrink: { millilitres: number; grams: number | null; drops: number | null };
  drink: {
    millilitres: number;
    density: number;
    percentVol: number | null;
    substances: SubstanceInDrink[];
  };
  unchecked: Unchecked[];
  warnings: string[];
}

/**
 * What reaches the glass through syrup: so much concentrate a drink, and of each pure substance in mg/kg of the drink
 * as drunk, constituents of oils at the most that is known of them, with every limit that speaks of them.
 *
 * @throws EngineError where an amount is not above 0, or there is more syrup than drink
 */
export function doseOf(input: DoseInput): Dose {
  const { drinkDensity = 1, drinkPercentVol = 0, dropGrams, drink } = input;
  requireDose({ ...input, drinkDensity });
  const concentrate = strengthOf(input.lines, input.materials);
  const millilitres = (input.syrupDose * input.syrupPerDrink) / 1000;
  const grams = concentrate.density === null ? null : millilitres * concentrate.density;
  const percentVol =
    concentrate.percentVol === null ? null : drinkPercentVol + (millilitres * concentrate.percentVol) / drink;
  if (percentVol !== null && percentVol > 100)
    throw new EngineError(
      'bad-argument',
      'drinkPercentVol',
      drinkPercentVol,
      `a strength that leaves room for the concentrate's ethanol, at most ${(100 + drinkPercentVol - percentVol).toFixed(2)}`,
    );
  const state = { percentVol, density: drinkDensity };
  const perGram = grams === null ? null : (1e6 * grams) / (concentrate.grams * drink * drinkDensity);
  const portions = explodeAll(input.lines, input.materials).flatMap((one) => one.portions);
  const substances = reachingOf(portions, perGram).map((one) => ({
    substance: one.name,
    cas: one.cas,
    mgPerKg: one.mgPerKg,
    within: one.within,
    limits: judgeLimits(one, state, input.limits),
  }));
  const drops = grams === null || dropGrams === undefined ? null : grams / dropGrams;
  return {
    perDrink: { millilitres, grams, drops },
    drink: { millilitres: drink, density: drinkDensity, percentVol, substances },
    unchecked: uncheckedOf(portions),
    warnings: [...concentrate.warnings, ...limitWarnings(substances, percentVol)],
  };
}

function requireDose(input: DoseInput & { drinkDensity: number }): void {
  const amounts = ['syrupDose', 'syrupPerDrink', 'drink', 'drinkDensity', 'dropGrams'] as const;
  for (const name of amounts) {
    const value = input[name];
    if (value !== undefined && !(value > 0 && Number.isFinite(value)))
      throw new EngineError('bad-argument', name, value, 'a finite number above 0');
  }
  if (input.syrupDose > 1000)
    throw new EngineError('bad-argument', 'syrupDose', input.syrupDose, 'at most 1000 mL in a litre');
  if (input.syrupPerDrink > input.drink)
    throw new EngineError(
      'bad-argument',
      'syrupPerDrink',
      input.syrupPerDrink,
      `at most the ${input.drink} mL of the drink`,
    );
  const { drinkPercentVol = 0 } = input;
  if (!(drinkPercentVol >= 0 && drinkPercentVol <= 100))
    throw new EngineError(
      'bad-argument',
      'drinkPercentVol',
      drinkPercentVol,
      'a percentage by volume from 0 to 100',
    );
}
