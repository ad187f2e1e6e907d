import type { Brief } from '../../../trials/schema/brief.ts';

/** How much concentrate a mix's drink takes. Null where the brief does not say enough. */
export interface DoseLine {
  mix: string;
  /** mL of concentrate per litre of drink. */
  perLitre: number | null;
  /** mL of drink to make for all cups, a tenth over. */
  drink: number | null;
  /** mL of concentrate for that. */
  concentrate: number | null;
}

/** A tenth more than the cups hold, so that the last one is full. */
const OVER = 1.1;
/** Density of ethanol at 20 °C, g/mL (OIML R 22: 789.24 kg/m³). */
const ETHANOL = 0.78924;

/** The dose of each mix for so many cups. */
export function doseLines(
  brief: Brief,
  mixes: readonly { mix: string; settings: Record<string, number> }[],
  cups: number,
): DoseLine[] {
  const drink = brief.drink ? brief.drink.cupMillilitres * cups * OVER : null;
  return mixes.map(({ mix, settings }) => {
    const perLitre = doseOf(brief, settings);
    return {
      mix,
      perLitre,
      drink,
      concentrate: perLitre === null || drink === null ? null : (perLitre * drink) / 1000,
    };
  });
}

/** mL of concentrate per litre of drink at given settings. */
export function doseOf(brief: Brief, settings: Record<string, number>): number | null {
  const dose = brief.drink?.dosePerLitre;
  if (dose === undefined) return null;
  return typeof dose === 'number' ? dose : (settings[dose.setting] ?? null);
}

/** Grams of ethanol that one taster drinks in so many cups: the drink's own and the concentrate's. */
export function ethanolOf(brief: Brief, perLitre: number, cups: number): number | null {
  if (!brief.drink || !brief.concentrate) return null;
  const percent = brief.drink.percentVol + (brief.concentrate.percentVol * perLitre) / 1000;
  return (cups * brief.drink.cupMillilitres * percent * ETHANOL) / 100;
}
