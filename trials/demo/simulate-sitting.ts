import { type DemoTaster, demoTasters, habitualScores, TASTERS_SEED } from './demo-tasters.ts';
import { DEMO_ATTRIBUTES, DEMO_COMPONENTS, referenceScores, trueScores } from './demo-truth.ts';
import { namedStream } from './named-stream.ts';

/** A mix as it stands in the glass: what was weighed, and the dose in millilitres per litre of drink. */
export interface SimulatedMix {
  mix: string;
  /** Grams as weighed, by component id. */
  grams: Readonly<Record<string, number>>;
  dose: number;
}

/** One taster's cups in the order of tasting; `reference` and `warmup` need no row among the mixes. */
export interface SimulatedTray {
  assessor: string;
  cups: readonly { mix: string; replicate?: string | undefined }[];
}

export interface SimulatedScore {
  mix: string;
  assessor: string;
  session: string;
  replicate: string;
  position: number;
  /** Whole scores by attribute id, null where the taster left the question out. */
  scores: Record<string, number | null>;
}

export interface SimulatedSitting {
  mixes: readonly SimulatedMix[];
  sittingLabel: string;
  trays: readonly SimulatedTray[];
  /** Fixes cup noise and missing answers; the tasters themselves are the same at every seed. */
  seed: number;
}

const CUP_DEVIATION = 9;
const TASTER_BY_MIX_DEVIATION = 4;
const SITTING_DEVIATION = 2;
const FIRST_CUP_BITTER = 3;
/** A cup after one whose true bitterness is above this reads less juicy. */
const VERY_BITTER = 60;
const JUICY_AFTER_VERY_BITTER = -2;
const MISSING_SHARE = 0.02;
const SCALE = [0, 100] as const;

/**
 * Lets the six invented tasters taste a sitting. Score = habit of the taster + reaction of this taster to this mix
 * (the same at every pouring) + mood of the sitting + order + cup noise, rounded to whole points and clipped to the
 * scale; one answer in fifty is missing.
 * @returns one row per cup, in the order of the trays
 * @throws RangeError where a tray names a taster or a mix that does not exist
 */
export function simulateSitting(sitting: SimulatedSitting): SimulatedScore[] {
  const truths = truthsByMix(sitting.mixes);
  const tasters = new Map(demoTasters().map((taster) => [taster.name, taster]));
  return sitting.trays.flatMap((tray) => {
    const taster = tasters.get(tray.assessor);
    if (!taster)
      throw new RangeError(`assessor: found "${tray.assessor}", allowed ${[...tasters.keys()].join(', ')}`);
    return tasteTray(sitting, tray, { taster, truths });
  });
}

interface AtTable {
  taster: DemoTaster;
  truths: ReadonlyMap<string, readonly number[]>;
}

function tasteTray(sitting: SimulatedSitting, tray: SimulatedTray, table: AtTable): SimulatedScore[] {
  return tray.cups.map((cup, i) => {
    const before = i > 0 ? truthOf(table, tray.cups[i - 1]!.mix) : null;
    const replicate = cup.replicate ?? '1';
    const name = ['cup', sitting.sittingLabel, tray.assessor, cup.mix, replicate, i];
    const stream = namedStream(sitting.seed, ...name);
    const exact = exactScores(sitting.sittingLabel, cup.mix, { table, before });
    const scores = exact.map((score) => {
      const noisy = clip(Math.round(score + stream.normal(CUP_DEVIATION)));
      return stream.uniform() < MISSING_SHARE ? null : noisy;
    });
    return {
      mix: cup.mix,
      assessor: tray.assessor,
      session: sitting.sittingLabel,
      replicate,
      position: i + 1,
      scores: Object.fromEntries(DEMO_ATTRIBUTES.map((id, k) => [id, scores[k]!])),
    };
  });
}

/** A cup's scores but for its noise. `before` is the truth of the cup before it, null for the first. */
function exactScores(
  sittingLabel: string,
  mix: string,
  served: { table: AtTable; before: readonly number[] | null },
): number[] {
  const { table, before } = served;
  const reaction = namedStream(TASTERS_SEED, 'reaction', table.taster.name, mix);
  const mood = namedStream(TASTERS_SEED, 'sitting', sittingLabel);
  return habitualScores(table.taster, truthOf(table, mix)).map((score, i) => {
    const order = orderEffect(DEMO_ATTRIBUTES[i]!, before);
    return score + reaction.normal(TASTER_BY_MIX_DEVIATION) + mood.normal(SITTING_DEVIATION) + order;
  });
}

function orderEffect(attribute: string, before: readonly number[] | null): number {
  if (attribute === 'bitter') return before === null ? FIRST_CUP_BITTER : 0;
  const bitterBefore = before?.[DEMO_ATTRIBUTES.indexOf('bitter')] ?? 0;
  return attribute === 'juicy' && bitterBefore > VERY_BITTER ? JUICY_AFTER_VERY_BITTER : 0;
}

function truthsByMix(mixes: readonly SimulatedMix[]): Map<string, readonly number[]> {
  const truths = new Map<string, readonly number[]>([
    ['reference', referenceScores()],
    ['warmup', referenceScores()],
  ]);
  for (const { mix, grams, dose } of mixes) {
    const weighed = DEMO_COMPONENTS.map((id) => grams[id] ?? 0);
    const total = weighed.reduce((sum, g) => sum + g, 0);
    truths.set(
      mix,
      trueScores(
        weighed.map((g) => g / total),
        dose,
      ),
    );
  }
  return truths;
}

function truthOf(table: AtTable, mix: string): readonly number[] {
  const truth = table.truths.get(mix);
  if (!truth) throw new RangeError(`mix: found "${mix}", allowed ${[...table.truths.keys()].join(', ')}`);
  return truth;
}

function clip(score: number): number {
  return Math.min(SCALE[1], Math.max(SCALE[0], score));
}
