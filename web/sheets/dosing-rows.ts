import { alcoholDensity, massFractionOf } from '../../engine/bench/alcohol-density.ts';
import { type DoseSheet, doseSheet } from '../../engine/bench/dose-sheet.ts';
import { EngineError } from '../../engine/errors.ts';
import type { PouringSheet } from '../../trials/schema/api.ts';
import type { Brief } from '../../trials/schema/brief.ts';

export interface DosingRow {
  mix: string;
  cups: number;
  /** Null where the brief does not say enough, or the balance would show nothing. */
  dose: DoseSheet | null;
}

/**
 * A jug for each mix: how many cups it fills and what goes in. Where one jug needs the dilution all take it, so that
 * they hold much the same ethanol. The practice cup is a mix like any other here.
 */
export function dosingRows(
  brief: Brief,
  { trays, doses }: Pick<PouringSheet, 'trays' | 'doses'>,
): DosingRow[] {
  const cups = new Map<string, number>();
  for (const tray of trays) for (const { mix } of tray.cups) cups.set(mix, (cups.get(mix) ?? 0) + 1);
  const rowsWith = (diluteAlways: boolean) =>
    [...cups].map(([mix, count]) => ({
      mix,
      cups: count,
      dose: Object.hasOwn(doses, mix)
        ? doseOf(brief, { perLitre: doses[mix]!, cups: count, diluteAlways })
        : null,
    }));
  const rows = rowsWith(false);
  return rows.some(({ dose }) => dose?.fold === 10) ? rowsWith(true) : rows;
}

interface Jug {
  perLitre: number;
  cups: number;
  diluteAlways: boolean;
}

/**
 * The density of the concentrate is taken as that of spirit of its strength: the aroma in it moves that by a few
 * percent, which weighing by the found density would put right.
 */
function doseOf(brief: Brief, { perLitre, cups, diluteAlways }: Jug): DoseSheet | null {
  const { drink, concentrate, batch } = brief;
  if (drink === undefined || concentrate === undefined) return null;
  const { percentVol } = concentrate;
  try {
    return doseSheet({
      dosePerLitre: perLitre,
      cups,
      cupMillilitres: drink.cupMillilitres,
      concentrate: { percentVol, density: alcoholDensity(massFractionOf(percentVol)) },
      drinkPercentVol: drink.percentVol,
      balance: { readability: batch.readability },
      tolerance: batch.tolerance,
      diluteAlways,
    });
  } catch (error) {
    if (error instanceof EngineError) return null;
    throw error;
  }
}
