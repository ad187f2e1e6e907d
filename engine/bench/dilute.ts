import { EngineError } from '../errors.ts';
import { alcoholDensity, massFractionOf } from './alcohol-density.ts';

export interface Dilution {
  spiritGrams: number;
  waterGrams: number;
  spiritMillilitres: number;
  waterMillilitres: number;
  totalMillilitres: number;
  /** Millilitres that go missing: those of spirit and water before, less those of the mixture. */
  contractionMillilitres: number;
}

export interface DilutionInput {
  /** Percent by volume of the spirit. */
  from: number;
  /** Percent by volume wanted. */
  to: number;
  /** Millilitres wanted. */
  make: number;
}

/**
 * Spirit and water for a strength, all at 20 °C: the ethanol of the mixture by mass (OIML R 22) is that of the
 * spirit, the rest of the mass is water; so the contraction comes out by itself.
 *
 * @throws EngineError where a strength is outside 0 to 100, `to` is above `from`, or `make` is not above 0
 */
export function dilute({ from, to, make }: DilutionInput): Dilution {
  requireStrength('from', from);
  requireStrength('to', to);
  if (!(make > 0 && Number.isFinite(make)))
    throw new EngineError('bad-argument', 'make', make, 'millilitres above 0');
  if (to > from)
    throw new EngineError('bad-argument', 'to', to, `at most the ${from} % by volume of the spirit`);
  const wanted = massFractionOf(to);
  const spirit = massFractionOf(from);
  const grams = make * alcoholDensity(wanted);
  const spiritGrams = to === from ? grams : grams * (to === 0 ? 0 : wanted / spirit);
  const waterGrams = grams - spiritGrams;
  const spiritMillilitres = spiritGrams / alcoholDensity(spirit);
  const waterMillilitres = waterGrams / alcoholDensity(0);
  return {
    spiritGrams,
    waterGrams,
    spiritMillilitres,
    waterMillilitres,
    totalMillilitres: make,
    contractionMillilitres: to === from ? 0 : spiritMillilitres + waterMillilitres - make,
  };
}

function requireStrength(argument: string, value: number): void {
  if (!(value >= 0 && value <= 100))
    throw new EngineError('bad-argument', argument, value, 'a percentage by volume from 0 to 100');
}
