import { alcoholDensity, massFractionOf } from '../../engine/bench/alcohol-density.ts';
import { type DoseSheet, doseSheet } from '../../engine/bench/dose-sheet.ts';
import { EngineError } from '../../engine/errors.ts';
import type { Brief } from './brief.ts';

/** A jug of one mix's drink: how many cups it fills and how strong it is dosed. */
export interface Jug {
  mix: string;
  cups: number;
  /** mL of concentrate per litre; null where it is poured as it is. */
  perLitre: number | null;
}

export interface JugDose extends Jug {
  /** Null where the brief does not say enough, or the balance would show nothing. */
  dose: DoseSheet | null;
}

/**
 * What goes into each jug. Where one jug needs the tenfold dilution all take it, so that they hold much the same
 * ethanol.
 */
export function jugDoses(brief: Brief, jugs: readonly Jug[]): JugDose[] {
  const doses = (diluteAlways: boolean) =>
    jugs.map((jug) => ({ ...jug, dose: doseOf(brief, jug, diluteAlways) }));
  const plain = doses(false);
  return plain.some(({ dose }) => dose?.fold === 10) ? doses(true) : plain;
}

/**
 * The density of the concentrate is taken as that of spirit of its strength: the aroma in it moves that by a few
 * percent, which weighing by the found density would put right.
 */
function doseOf(brief: Brief, { perLitre, cups }: Jug, diluteAlways: boolean): DoseSheet | null {
  const { drink, concentrate, batch } = brief;
  if (drink === undefined || concentrate === undefined || perLitre === null) return null;
  const { percentVol } = concentrate;
  try {
    return doseSheet({
      dosePerLitre: perLitre,
      cups,
      cupMillilitres: drink.cupMillilitres,
      concentrate: { percentVol, density: alcoholDensity(massFractionOf(percentVol)) },
      drinkPercentVol: drink.percentVol,
      balance: batch,
      tolerance: batch.tolerance,
      diluteAlways,
    });
  } catch (error) {
    if (error instanceof EngineError) return null;
    throw error;
  }
}
