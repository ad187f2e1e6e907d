import { makeRound } from '../../trials/rounds/accept-round.ts';
import type { Context } from '../../trials/rounds/context.ts';
import { createTrial } from '../../trials/rounds/create-trial.ts';
import { type DrawnSitting, drawSitting } from '../../trials/rounds/draw-sitting.ts';
import { weighMix } from '../../trials/rounds/weigh-mix.ts';
import { SittingRequest } from '../../trials/schema/api.ts';
import { Brief } from '../../trials/schema/brief.ts';

/** Three components, one setting, two attributes: as small as a whole trial can be. */
export function smallBrief(): Brief {
  return Brief.parse({
    format: 'brief/1',
    name: 'Pith and pepper',
    components: [
      { id: 'peelOil', name: 'Zitronat oil', low: 0.2, high: 0.7 },
      { id: 'limeOil', name: 'Keffir oil', low: 0, high: 0.5 },
      { id: 'woodOil', name: 'Cedrat oil', low: 0.1, high: 0.6 },
    ],
    settings: [{ id: 'dose', name: 'Dose', unit: 'mL/L', low: 0.2, high: 0.4 }],
    batch: { grams: 4, readability: 0.01 },
    attributes: [
      { id: 'bitter', name: 'Bitter', scale: [0, 100], target: 60 },
      { id: 'liking', name: 'Overall liking', scale: [1, 9], target: 'most' },
    ],
    panel: { assessors: 2, cupsPerSitting: 4 },
    drink: { name: 'soda', cupMillilitres: 30, dosePerLitre: { setting: 'dose' } },
    cautions: [{ to: 'taster', text: 'Holds citrus.' }],
  });
}

const RATIOS = {
  qa1: [0.5, 0.25, 0.25],
  qb2: [0.25, 0.5, 0.25],
  qc3: [0.25, 0.25, 0.5],
} as const;

/** The three mixes of the small trial's first round, as a plan lays them out. */
export function smallMixes() {
  return Object.entries(RATIOS).map(([mix, shares]) => {
    const [peelOil, limeOil, woodOil] = shares;
    const ratios = { peelOil, limeOil, woodOil };
    const grams = { peelOil: 4 * peelOil, limeOil: 4 * limeOil, woodOil: 4 * woodOil };
    const planned = { ratios, grams, settings: { dose: 0.3 } };
    return { mix, blend: mix, repeats: null as string | null, again: false, planned, why: 'a corner' };
  });
}

/** A trial whose first round is planned. */
export function plannedTrial(context: Context): string {
  const { trial } = createTrial(context, smallBrief());
  makeRound(context, trial, { mixes: smallMixes(), reading: null, restHours: 24 });
  return trial;
}

/** A trial whose first round is weighed as planned. */
export function weighedTrial(context: Context): string {
  const trial = plannedTrial(context);
  for (const { mix, planned } of smallMixes())
    weighMix(context, { trial, round: 1, mix }, { grams: planned.grams, note: '' });
  return trial;
}

/** What is asked for when a sitting of the small trial is drawn. */
export function sittingRequest(given: Partial<SittingRequest> = {}): SittingRequest {
  return SittingRequest.parse({
    label: 'Tuesday',
    assessors: ['Ann', 'Bob'],
    mixes: Object.keys(RATIOS),
    ...given,
  });
}

/** A trial with one drawn sitting, not yet open. */
export function drawnTrial(
  context: Context,
  given: Partial<SittingRequest> = {},
): DrawnSitting & { trial: string } {
  const trial = weighedTrial(context);
  return { trial, ...drawSitting(context, { trial, round: 1 }, sittingRequest(given)) };
}
