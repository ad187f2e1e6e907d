import { DEMO_ATTRIBUTES, referenceScores } from './demo-truth.ts';
import { namedStream } from './named-stream.ts';

/** An invented taster: lasting habits of scoring, one per attribute of the demo. */
export interface DemoTaster {
  name: string;
  /** Points added to everything. */
  offsets: readonly number[];
  /** How much of a true difference reaches the scale: 1 = all of it. */
  slopes: readonly number[];
}

/** Fixes the habits of the six invented tasters, so that they are the same people in every round. */
export const TASTERS_SEED = 20260;

const OFFSET_DEVIATION = 6;
const SLOPE_LEAST = 0.8;
const SLOPE_MOST = 1.2;
/** P4 uses little of the scale and ranks as the others do. */
const SMALL_SCALE = { name: 'P4', slope: 0.6 };
/** P5 hardly smells thiols. */
const HARDLY_SMELLS_THIOLS = {
  name: 'P5',
  slopes: new Map([
    ['catty', 0.2],
    ['juicy', 0.5],
  ]),
} as const;

/**
 * The six tasters. A score begins as pivot + offset + slope · (truth - pivot), where the pivot of an attribute is
 * the true score of the reference: slopes stretch differences from the drink everybody knows.
 */
export function demoTasters(): DemoTaster[] {
  return ['P1', 'P2', 'P3', 'P4', 'P5', 'P6'].map((name) => {
    const stream = namedStream(TASTERS_SEED, 'taster', name);
    const drawn = SLOPE_LEAST + (SLOPE_MOST - SLOPE_LEAST) * stream.uniform();
    const scale = name === SMALL_SCALE.name ? SMALL_SCALE.slope : drawn;
    return {
      name,
      offsets: DEMO_ATTRIBUTES.map(() => stream.normal(OFFSET_DEVIATION)),
      slopes: DEMO_ATTRIBUTES.map((id) => slopeOf(name, id, scale)),
    };
  });
}

/** What a taster would score without noise, sitting or order: the habits alone. Not yet rounded or clipped. */
export function habitualScores(taster: DemoTaster, truth: readonly number[]): number[] {
  const pivot = referenceScores();
  return truth.map((t, i) => pivot[i]! + taster.offsets[i]! + taster.slopes[i]! * (t - pivot[i]!));
}

function slopeOf(name: string, attribute: string, scale: number): number {
  const own = name === HARDLY_SMELLS_THIOLS.name ? HARDLY_SMELLS_THIOLS.slopes.get(attribute) : undefined;
  return own ?? scale;
}
