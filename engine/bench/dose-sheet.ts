import { EngineError } from '../errors.ts';
import { alcoholDensity, ETHANOL_DENSITY, massFractionOf } from './alcohol-density.ts';
import { type Balance, smallestMass, toStep, weighingUncertainty } from './balance.ts';

export interface DoseSheetInput {
  /** Millilitres of concentrate in a litre of drink as drunk. */
  dosePerLitre: number;
  /** Cups to be filled from one jug. */
  cups: number;
  cupMillilitres: number;
  /** Share made over what the cups hold; default 0.1. */
  over?: number | undefined;
  concentrate: {
    /** g/mL at 20 °C. */
    density: number;
    percentVol: number;
  };
  /** Percent by volume of the drink without the concentrate; default 0. */
  drinkPercentVol?: number | undefined;
  /** Percent by volume of the spirit that a dilution is made with; default 96. */
  diluentPercentVol?: number | undefined;
  balance: Balance;
  /** How well the dose should be known, as a fraction; default 0.01. */
  tolerance?: number | undefined;
  /** Weigh the tenfold dilution even where the concentrate itself could be: jugs of one sitting go the same way. */
  diluteAlways?: boolean | undefined;
}

export interface DoseSheet {
  /** Of drink in the jug. */
  drinkMillilitres: number;
  /** Of concentrate in it. */
  concentrateMillilitres: number;
  concentrateGrams: number;
  /** One standard uncertainty of the concentrate weighed as it is, as a fraction. */
  neatError: number;
  /** 1: weigh it as it is; 10: diluted tenfold by mass first. */
  fold: 1 | 10;
  /** What to weigh into the jug, in steps of the balance. */
  weighGrams: number;
  relativeError: number;
  /** Whether the dose is then known to the tolerance, and the drink to make at once for it to be so, mL. */
  isKnown: boolean;
  knownFromMillilitres: number;
  /** mL of concentrate per litre that `weighGrams` gives. */
  givesPerLitre: number;
  /** Of the drink as poured: its own, the concentrate's and the dilution's. */
  percentVol: number;
  /** Grams of ethanol in one cup. */
  ethanolGramsPerCup: number;
}

/**
 * How a jug of drink is dosed: straight where the balance knows the mass to the tolerance, else through a tenfold
 * dilution by mass in spirit. The ethanol of the dilution counts, so it is never made weaker: where tenfold is not
 * enough, a larger jug is.
 *
 * @throws EngineError where an amount is not above 0, or the balance would show nothing at all
 */
export function doseSheet(input: DoseSheetInput): DoseSheet {
  const { dosePerLitre, cups, cupMillilitres, over = 0.1, concentrate, balance, tolerance = 0.01 } = input;
  requireAmounts({ dosePerLitre, cups, cupMillilitres, density: concentrate.density });
  if (!(over >= 0)) throw new EngineError('bad-argument', 'over', over, 'a share of 0 or more');
  const drinkMillilitres = cups * cupMillilitres * (1 + over);
  const concentrateMillilitres = (dosePerLitre * drinkMillilitres) / 1000;
  const concentrateGrams = concentrateMillilitres * concentrate.density;
  const least = smallestMass(balance, tolerance);
  const isEnough = (grams: number) => toStep(grams, balance.readability) >= least * (1 - 1e-12);
  const fold = isEnough(concentrateGrams) && input.diluteAlways !== true ? 1 : 10;
  const weighGrams = toStep(concentrateGrams * fold, balance.readability);
  if (weighGrams === 0)
    throw new EngineError('bad-argument', 'dosePerLitre', dosePerLitre, 'a dose that the balance can show');
  const givesPerLitre = (dosePerLitre * weighGrams) / (concentrateGrams * fold);
  const percentVol = percentVolOf(input, weighGrams / fold, fold, drinkMillilitres);
  return {
    drinkMillilitres,
    concentrateMillilitres,
    concentrateGrams,
    neatError: weighingUncertainty(balance) / concentrateGrams,
    fold,
    weighGrams,
    relativeError: weighingUncertainty(balance) / weighGrams,
    isKnown: isEnough(concentrateGrams * fold),
    knownFromMillilitres: (least * drinkMillilitres) / (concentrateGrams * fold),
    givesPerLitre,
    percentVol,
    ethanolGramsPerCup: (cupMillilitres * percentVol * ETHANOL_DENSITY) / 100,
  };
}

/** Grams of ethanol that a taster gets in a sitting of so many cups, each as poured. */
export function ethanolPerSitting(ethanolGramsPerCup: readonly number[]): number {
  return ethanolGramsPerCup.reduce((sum, grams) => sum + grams, 0);
}

function percentVolOf(input: DoseSheetInput, grams: number, fold: number, drinkMillilitres: number): number {
  const { concentrate, drinkPercentVol = 0, diluentPercentVol = 96 } = input;
  const spiritGrams = grams * (fold - 1);
  const spiritMillilitres = spiritGrams / alcoholDensity(massFractionOf(diluentPercentVol));
  const ethanol =
    (grams / concentrate.density) * concentrate.percentVol + spiritMillilitres * diluentPercentVol;
  return drinkPercentVol + ethanol / drinkMillilitres;
}

function requireAmounts(amounts: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(amounts))
    if (!(value > 0 && Number.isFinite(value)))
      throw new EngineError('bad-argument', name, value, 'a finite number above 0');
}
