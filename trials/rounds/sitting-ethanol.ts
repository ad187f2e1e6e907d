import { ETHANOL_DENSITY } from '../../engine/bench/alcohol-density.ts';
import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import type { Brief } from '../schema/brief.ts';
import { jugDoses } from '../schema/jug-doses.ts';
import type { MixRecord } from '../store/records.ts';
import { doseOf } from './dose.ts';
import { conflict } from './refusal.ts';

type Dosed = Pick<MixRecord, 'mix' | 'planned'>;

/** The cups of one tray, the doses of their mixes, and how many tasters drink from the same jugs. */
interface Poured {
  /** The mix in each cup of one taster. */
  cups: readonly string[];
  mixes: readonly Dosed[];
  tasters: number;
}

/**
 * Pure ethanol in one taster's cups as they are poured, in grams: what the drink holds by itself, what the
 * concentrate brings, and the spirit of the tenfold dilution where the jugs need one. The reference and the warm-up
 * count like the strongest mix. Null where the brief lacks drink, concentrate or dose.
 */
export function ethanolOf(brief: Brief, { cups, mixes, tasters }: Poured): number | null {
  const { drink, concentrate } = brief;
  if (drink === undefined || concentrate === undefined) return null;
  const times = (mix: string) => tasters * Math.max(1, cups.filter((cup) => cup === mix).length);
  const jugs = mixes.map((mix) => ({ mix: mix.mix, cups: times(mix.mix), perLitre: doseOf(brief, mix) }));
  if (jugs.length === 0 || jugs.some(({ perLitre }) => perLitre === null)) return null;
  const percents = new Map(
    jugDoses(brief, jugs).map(({ mix, perLitre, dose }) => [
      mix,
      dose?.percentVol ?? drink.percentVol + (perLitre! / 1000) * concentrate.percentVol,
    ]),
  );
  const strongest = Math.max(...percents.values());
  const percentIn = (mix: string) =>
    mix === REFERENCE || mix === WARMUP ? strongest : (percents.get(mix) ?? strongest);
  return cups.reduce((sum, mix) => sum + (drink.cupMillilitres * percentIn(mix) * ETHANOL_DENSITY) / 100, 0);
}

/** Refuses a sitting that would give one taster more ethanol than the brief allows. */
export function refuseTooMuchEthanol(brief: Brief, poured: Poured): void {
  const cap = brief.caps?.ethanolGramsPerSitting;
  const grams = ethanolOf(brief, poured);
  if (cap === undefined || grams === null || grams <= cap) return;
  const { length } = poured.cups;
  const most = Math.floor((length * cap) / grams);
  throw conflict(
    `${length} cups hold ${grams.toFixed(1)} g of ethanol a taster, the brief allows ${cap} g: pour at most ${most} or smaller ones`,
  );
}
