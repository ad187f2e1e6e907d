import { EngineError } from '../errors.ts';

/** One rung: so much concentrate into so much drink. */
export interface Rung {
  into: string;
  millilitres: number;
  /** Null without a density. */
  grams: number | null;
}

/**
 * The same dose at every size it is met in: a glass, a litre, ten litres of drink. Each rung is the one below times
 * the same volumes, so that both directions agree.
 *
 * @param dosePerLitre mL of concentrate in a litre of drink
 * @param density g/mL of the concentrate at 20 °C; null where it is not known
 * @param glassMillilitres of drink in a glass
 * @throws EngineError where an amount is not above 0
 */
export function doseLadder(dosePerLitre: number, density: number | null, glassMillilitres: number): Rung[] {
  requireAbove('dosePerLitre', dosePerLitre);
  requireAbove('glassMillilitres', glassMillilitres);
  if (density !== null) requireAbove('density', density);
  const sizes: [string, number][] = [
    [`a cup of ${glassMillilitres} mL`, glassMillilitres],
    ['a litre', 1000],
    ['ten litres', 10_000],
  ];
  return sizes.map(([into, volume]) => {
    const millilitres = (dosePerLitre * volume) / 1000;
    return { into, millilitres, grams: density === null ? null : millilitres * density };
  });
}

/**
 * The dose of a syrup that brings a drink to the same dose: so much syrup is in each drink.
 *
 * @returns mL of concentrate in a litre of syrup
 * @throws EngineError where there is more syrup than drink, or the syrup would be all concentrate
 */
export function syrupDose(dosePerLitre: number, syrupPerDrink: number, drink: number): number {
  requireAbove('dosePerLitre', dosePerLitre);
  requireAbove('syrupPerDrink', syrupPerDrink);
  if (!(syrupPerDrink <= drink && Number.isFinite(drink)))
    throw new EngineError(
      'bad-argument',
      'syrupPerDrink',
      syrupPerDrink,
      `at most the ${drink} mL of the drink`,
    );
  const dose = (dosePerLitre * drink) / syrupPerDrink;
  if (dose > 1000)
    throw new EngineError(
      'bad-argument',
      'dosePerLitre',
      dosePerLitre,
      'at most 1000 mL in a litre of syrup',
    );
  return dose;
}

function requireAbove(argument: string, value: number): void {
  if (!(value > 0 && Number.isFinite(value)))
    throw new EngineError('bad-argument', argument, value, 'a finite number above 0');
}
