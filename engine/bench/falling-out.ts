import { EngineError } from '../errors.ts';

/** Something that dislikes water, in one liquid of the chain. */
export interface WaterShy {
  name: string;
  /** In the whole liquid; null where it cannot be told. */
  mgPerKg: number | null;
  /** What its sheet says: one part mixes clear with so many parts and more of ethanol of this strength (as ISO 875). */
  clearIn: { percentVol: number; parts: number; source: string } | null;
}

/** One liquid on the way from the bottle to the glass. */
export interface ChainLink {
  place: string;
  /** Of the liquid, percent ethanol by volume; null where it cannot be told. */
  percentVol: number | null;
  holds: readonly WaterShy[];
}

/**
 * `clear`: nothing speaks against it. `look`: oils rich in terpenes may not stay dissolved at this strength. `can-fall-out`:
 * so weak in alcohol that oils cloud or ring. `not-known`: a strength or a density is missing.
 */
export type Clearness = 'clear' | 'look' | 'can-fall-out' | 'not-known';

export interface JudgedLink {
  place: string;
  percentVol: number | null;
  /** Of all that dislikes water. */
  mgPerKg: number | null;
  clearness: Clearness;
  says: string;
  /** What the sentence goes by. */
  source: string;
}

/** mg/kg that a liquid of any strength is taken to carry unseen (common practice: haze from 10 to 20 mg/kg). */
const TRACE = 10;
/** Percent by volume from which all oils dissolve readily (Gildemeister and Hoffmann), and below which none is relied on. */
const STRONG = 90;
const DILUTE = 60;

const SOURCES = {
  trace: 'common practice: oils cloud or ring from 10 to 20 mg/kg; a rule of thumb',
  strong:
    'Gildemeister and Hoffmann, The Volatile Oils: all oils dissolve readily in strong alcohol, only some in dilute',
  dilute:
    'a rule of thumb: oils are made up in strong alcohol and cut to 50 to 60 % by volume at the weakest before syrup (common practice, no published source)',
} as const;

const RANK: readonly Clearness[] = ['clear', 'look', 'can-fall-out', 'not-known'];

/**
 * Where along the chain oils are likely to fall out: adding water lowers the solvent's strength, so what was clear in the
 * bottle can cloud in the syrup or the glass. A heuristic, said to be one: up to 10 mg/kg and from 90 % by volume no
 * caution; where an oil's own sheet says in how much of which alcohol it mixes clear, that goes first; from 60 to 90 % a
 * look is asked for; below, oils can fall out. Parts of liquid to one of oil are taken by mass, since oil and strong
 * alcohol weigh nearly alike.
 *
 * @returns one sentence a link, in the order given
 * @throws EngineError where a strength is not 0 to 100 or an amount is negative
 */
export function fallingOut(chain: readonly ChainLink[]): JudgedLink[] {
  return chain.map(judge);
}

/** Whatever is not clear. */
export function isDoubtful({ clearness }: Pick<JudgedLink, 'clearness'>): boolean {
  return clearness !== 'clear';
}

function judge(link: ChainLink): JudgedLink {
  requireSound(link);
  const { place, percentVol, holds } = link;
  const known = holds.map(({ mgPerKg }) => mgPerKg);
  const mgPerKg = known.includes(null) ? null : (known as number[]).reduce((sum, one) => sum + one, 0);
  const told = (clearness: Clearness, says: string, source: string): JudgedLink => ({
    ...{ place, percentVol, mgPerKg, clearness },
    ...{ says: `${place}: ${says}`, source },
  });
  if (holds.length === 0) return told('clear', 'holds nothing known to fall out.', SOURCES.trace);
  if (mgPerKg === null || percentVol === null) {
    const missing = percentVol === null ? 'its strength' : 'how much oil it holds';
    return told('not-known', `${missing} is not known, so nothing can be said.`, SOURCES.dilute);
  }
  if (mgPerKg < TRACE)
    return told('clear', `${amount(mgPerKg)} of oil are too little to be seen.`, SOURCES.trace);
  const worst = holds
    .map((one) => clearnessOf(one, percentVol))
    .reduce((a, b) => (RANK.indexOf(b.clearness) > RANK.indexOf(a.clearness) ? b : a));
  const doubtful = holds.filter((one) => clearnessOf(one, percentVol).clearness !== 'clear');
  return told(worst.clearness, sentence(link, worst.clearness, doubtful, mgPerKg), worst.source);
}

function clearnessOf(
  { mgPerKg, clearIn }: WaterShy,
  percentVol: number,
): { clearness: Clearness; source: string } {
  const parts = 1e6 / Math.max(mgPerKg!, 1e-9) - 1;
  if (clearIn !== null && percentVol >= clearIn.percentVol && parts >= clearIn.parts)
    return { clearness: 'clear', source: clearIn.source };
  if (percentVol >= STRONG) return { clearness: 'clear', source: SOURCES.strong };
  if (percentVol >= DILUTE) return { clearness: 'look', source: SOURCES.strong };
  const trace = percentVol < 20;
  return { clearness: 'can-fall-out', source: trace ? SOURCES.trace : SOURCES.dilute };
}

function sentence(
  { percentVol }: ChainLink,
  clearness: Clearness,
  doubtful: readonly WaterShy[],
  mgPerKg: number,
): string {
  const strength = `${Number(percentVol!.toPrecision(2))} % by volume`;
  if (clearness === 'clear') return `${strength} is strong enough for ${amount(mgPerKg)} of oil.`;
  const names = doubtful.map(({ name }) => name).join(', ');
  const oil = amount(doubtful.reduce((sum, one) => sum + one.mgPerKg!, 0));
  return clearness === 'look'
    ? `${oil} of oil (${names}) in ${strength}: what is rich in terpenes may not stay dissolved; stand it cold for a day and look against a dark ground.`
    : `${oil} of oil (${names}) in ${strength} can cloud or leave a ring; look at it after a day, cold.`;
}

/** Percent where there is much, mg/kg where there is little. */
function amount(mgPerKg: number): string {
  return mgPerKg >= 10_000
    ? `${Number((mgPerKg / 10_000).toPrecision(2))} %`
    : `${Number(mgPerKg.toPrecision(2))} mg/kg`;
}

function requireSound({ place, percentVol, holds }: ChainLink): void {
  if (percentVol !== null && !(percentVol >= 0 && percentVol <= 100))
    throw new EngineError('bad-argument', `percentVol of ${place}`, percentVol, 'from 0 to 100, or null');
  for (const { name, mgPerKg, clearIn } of holds) {
    if (mgPerKg !== null && !(mgPerKg >= 0 && mgPerKg <= 1e6))
      throw new EngineError('bad-argument', `mgPerKg of ${name}`, mgPerKg, 'from 0 to a million, or null');
    if (clearIn !== null && !(clearIn.parts > 0))
      throw new EngineError('bad-argument', `clearIn.parts of ${name}`, clearIn.parts, 'a number above 0');
  }
}
