import { Brief } from '../schema/brief.ts';
import brief from './brief.json' with { type: 'json' };
import { demoTasters } from './demo-tasters.ts';
import { type CodedTray, drawDemoTrays } from './demo-trays.ts';
import { ROUND_ONE_MIXES, ROUND_ONE_SITTINGS, type RoundOneMix } from './round-one-mixes.ts';
import { type SimulatedMix, type SimulatedScore, simulateSitting } from './simulate-sitting.ts';

/** The seed of the first round as it ships. */
export const ROUND_ONE_SEED = 1;

export interface DemoMix extends RoundOneMix {
  /** Planned shares of the blend. */
  ratios: Record<string, number>;
}

export interface DemoSitting {
  label: string;
  tastedAtHours: number;
  trays: CodedTray[];
}

export interface DemoRound {
  mixes: DemoMix[];
  sittings: DemoSitting[];
  scores: SimulatedScore[];
}

/** The brief of the demo trial, cautions included. Everything in it is invented. */
export function demoBrief(): Brief {
  return Brief.parse(brief);
}

/**
 * Round 1 of the demo, tasted by the invented tasters: 12 mixes from 9 bottles, 4 sittings of 3 mixes and the blind
 * reference over two evenings, 96 cups.
 * @param seed fixes codes, serving orders, cup noise and missing answers; mixes and tasters are always the same
 */
export function demoRoundOne(seed: number = ROUND_ONE_SEED): DemoRound {
  const assessors = demoTasters().map(({ name }) => name);
  const codesTaken = new Map<string, Set<string>>();
  const sittings = ROUND_ONE_SITTINGS.map(({ label, tastedAtHours }, index) => {
    const three = ROUND_ONE_MIXES.filter(({ sitting }) => sitting === label).map(({ mix }) => mix);
    const mixes = [...three, 'reference'] as [string, string, string, string];
    const trays = drawDemoTrays({ label, index, mixes }, assessors, codesTaken, seed);
    return { label, tastedAtHours, trays };
  });
  return { mixes: ROUND_ONE_MIXES.map(withRatios), sittings, scores: tasted(sittings, seed) };
}

function tasted(sittings: readonly DemoSitting[], seed: number): SimulatedScore[] {
  const mixes: SimulatedMix[] = ROUND_ONE_MIXES.map(({ mix, weighed, dose }) => ({
    mix,
    grams: weighed,
    dose,
  }));
  return sittings.flatMap(({ label, trays }) => simulateSitting({ mixes, sittingLabel: label, trays, seed }));
}

function withRatios(mix: RoundOneMix): DemoMix {
  const total = Object.values(mix.planned).reduce((sum, g) => sum + g, 0);
  const ratios = Object.fromEntries(Object.entries(mix.planned).map(([id, g]) => [id, g / total]));
  return { ...mix, ratios };
}
