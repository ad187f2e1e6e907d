import { ETHANOL_DENSITY } from '../../engine/bench/alcohol-density.ts';
import type { Brief } from './brief.ts';
import { jugDoses } from './jug-doses.ts';

/** The strongest drink that a brief allows. */
export interface StrongestDrink {
  /** mL of concentrate per litre, the highest. */
  dosePerLitre: number;
  percentVol: number;
  /** g/mL. */
  density: number;
  /** Grams of the mix (all components) in a litre of drink. */
  mixGramsPerLitre: number;
}

/** Lowest and highest dose in mL per litre; null where the brief names none. */
export function doseRange({ drink, settings }: Brief): [number, number] | null {
  const dose = drink?.dosePerLitre;
  if (dose === undefined) return null;
  if (typeof dose === 'number') return [dose, dose];
  const setting = settings.find(({ id }) => id === dose.setting);
  return setting === undefined ? null : [setting.low, setting.high];
}

/** The drink at its highest dose; null where drink, dose or concentrate are not named. */
export function strongestDrink(brief: Brief): StrongestDrink | null {
  const { drink, concentrate, batch } = brief;
  const range = doseRange(brief);
  if (drink === undefined || concentrate === undefined || range === null) return null;
  const dosePerLitre = range[1];
  return {
    dosePerLitre,
    percentVol: drink.percentVol + (dosePerLitre * concentrate.percentVol) / 1000,
    density: drink.density,
    mixGramsPerLitre: (dosePerLitre * batch.grams) / concentrate.fillMillilitres,
  };
}

/** Grams of ethanol a taster gets in the sitting that the brief plans, all cups at the highest dose, as poured. */
export function plannedEthanol(brief: Brief): { gramsPerSitting: number | null; diluted: boolean } {
  const { drink, concentrate, panel } = brief;
  const range = doseRange(brief);
  if (drink === undefined || concentrate === undefined || range === null)
    return { gramsPerSitting: null, diluted: false };
  const cups = panel.assessors * panel.replicates;
  const jugs = jugDoses(
    brief,
    range.map((perLitre, end) => ({ mix: String(end), cups, perLitre })),
  );
  const plain = drink.percentVol + (range[1] * concentrate.percentVol) / 1000;
  const percent = Math.max(...jugs.map(({ dose }) => dose?.percentVol ?? plain));
  return {
    gramsPerSitting: (panel.cupsPerSitting * drink.cupMillilitres * percent * ETHANOL_DENSITY) / 100,
    diluted: jugs.some(({ dose }) => dose?.fold === 10),
  };
}
