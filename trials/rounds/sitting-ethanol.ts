import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import type { Brief } from '../schema/brief.ts';
import type { MixRecord } from '../store/records.ts';
import { doseOf } from './dose.ts';
import { conflict } from './refusal.ts';

/** Grams of pure ethanol in a millilitre at 20 °C (OIML R 22). */
const ETHANOL_DENSITY = 0.78924;

type Dosed = Pick<MixRecord, 'mix' | 'planned'>;

/**
 * Pure ethanol in one taster's cups, in grams: what the drink holds by itself and what the concentrate brings. The
 * reference and the warm-up count as dosed like the strongest mix. Null where the brief lacks drink, concentrate or
 * dose.
 * @param cups the mix in each cup @param mixes their doses
 */
export function ethanolOf(brief: Brief, cups: readonly string[], mixes: readonly Dosed[]): number | null {
  const { drink, concentrate } = brief;
  if (drink === undefined || concentrate === undefined) return null;
  const doses = new Map(mixes.map((mix) => [mix.mix, doseOf(brief, mix)]));
  const known = [...doses.values()].filter((dose) => dose !== null);
  if (known.length < doses.size || known.length === 0) return null;
  const strongest = Math.max(...known);
  const percents = cups.map((mix) => {
    const dose = mix === REFERENCE || mix === WARMUP ? strongest : (doses.get(mix) ?? strongest);
    return drink.percentVol + (dose / 1000) * concentrate.percentVol;
  });
  return percents.reduce((sum, percent) => sum + (drink.cupMillilitres * percent * ETHANOL_DENSITY) / 100, 0);
}

/** Refuses a sitting that would give one taster more ethanol than the brief allows. */
export function refuseTooMuchEthanol(brief: Brief, cups: readonly string[], mixes: readonly Dosed[]): void {
  const cap = brief.caps?.ethanolGramsPerSitting;
  const grams = ethanolOf(brief, cups, mixes);
  if (cap === undefined || grams === null || grams <= cap) return;
  const most = Math.floor((cups.length * cap) / grams);
  throw conflict(
    `${cups.length} cups hold ${grams.toFixed(1)} g of ethanol a taster, the brief allows ${cap} g: pour at most ${most} or smaller ones`,
  );
}
