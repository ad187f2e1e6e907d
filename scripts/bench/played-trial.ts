import { createRandom } from '../../engine/numeric/random.ts';
import { makeRound } from '../../trials/rounds/accept-round.ts';
import type { Context } from '../../trials/rounds/context.ts';
import { createTrial } from '../../trials/rounds/create-trial.ts';
import { drawSitting } from '../../trials/rounds/draw-sitting.ts';
import { closeSitting, openKey, openSitting } from '../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../trials/rounds/take-answers.ts';
import { weighMix } from '../../trials/rounds/weigh-mix.ts';
import { SittingRequest } from '../../trials/schema/api.ts';
import { Brief } from '../../trials/schema/brief.ts';
import type { MixRecord } from '../../trials/store/records.ts';

/** How large an invented trial is. */
export interface TrialSize {
  components: number;
  attributes: number;
  tasters: number;
  rounds: number;
  /** Mixes a round, one sitting each. */
  mixes: number;
}

const GRAMS = 4;

/** An invented trial of any size, weighed, tasted and with its keys open; the same size and seed give the same scores. */
export function playTrial(context: Context, size: TrialSize, seed = 1): string {
  const random = createRandom(seed, 'played trial');
  const { trial } = createTrial(context, briefOf(size));
  const slopes = Array.from({ length: size.attributes }, () =>
    Array.from({ length: size.components }, () => 60 * random.uniform()),
  );
  for (let round = 1; round <= size.rounds; round++) {
    const mixes = Array.from({ length: size.mixes }, (_, i) =>
      randomMix(size, `m${(round - 1) * size.mixes + i + 1}`, () => random.uniform()),
    );
    makeRound(context, trial, { mixes, reading: null, restHours: 0 });
    for (const { mix, planned } of mixes)
      weighMix(context, { trial, round, mix }, { grams: planned.grams, note: '' });
    taste(context, { trial, round }, mixes, {
      size,
      score: (mix, question) => {
        const shares = Object.values(mix.planned.ratios);
        const level = slopes[question]!.reduce((sum, slope, i) => sum + slope * shares[i]!, 20);
        return Math.round(Math.min(100, Math.max(0, level + 16 * (random.uniform() - 0.5))));
      },
    });
  }
  return trial;
}

interface Tasting {
  size: TrialSize;
  score: (mix: MixRecord, question: number) => number;
}

function taste(
  context: Context,
  at: { trial: string; round: number },
  mixes: readonly MixRecord[],
  { size, score }: Tasting,
): void {
  const assessors = Array.from({ length: size.tasters }, (_, i) => `P${i + 1}`);
  const request = SittingRequest.parse({
    label: `Evening ${at.round}`,
    assessors,
    mixes: mixes.map(({ mix }) => mix),
    reference: false,
  });
  const { sitting } = drawSitting(context, at, request);
  const place = { trial: at.trial, sitting };
  openSitting(context, place);
  for (const assessor of assessors) {
    const seat = { ...place, assessor };
    let count = 0;
    const answers = context.store.sittings.cupsOf(seat).flatMap(({ code, mix }) =>
      Array.from({ length: size.attributes }, (_, question) => ({
        id: messageId([sitting, assessor, code, `q${question + 1}`]),
        code,
        question: `q${question + 1}`,
        value: score(mixes.find((one) => one.mix === mix)!, question),
        phone: messageId([assessor]),
        count: ++count,
      })),
    );
    takeAnswers(context, seat, answers);
  }
  closeSitting(context, place);
  openKey(context, place, 'bench');
}

/** The brief of an invented trial. */
export function briefOf({ components, attributes, tasters, mixes }: TrialSize): Brief {
  return Brief.parse({
    format: 'brief/1',
    name: `Invented, ${components} components`,
    components: Array.from({ length: components }, (_, i) => ({
      id: `c${i + 1}`,
      name: `Material ${i + 1}`,
      low: 0.02,
      high: 0.6,
    })),
    batch: { grams: GRAMS, readability: 0.01 },
    attributes: Array.from({ length: attributes }, (_, i) => ({
      id: `q${i + 1}`,
      name: `Question ${i + 1}`,
      scale: [0, 100],
      target: 40,
    })),
    panel: { assessors: tasters, cupsPerSitting: mixes },
    drink: { name: 'soda', cupMillilitres: 30, dosePerLitre: 0.25 },
  });
}

/** A mix inside the limits in whole steps of the balance. */
function randomMix({ components }: TrialSize, name: string, uniform: () => number): MixRecord {
  const free = GRAMS / 0.01 - components * 8;
  const cuts = Array.from({ length: components }, () => -Math.log(1 - uniform()));
  const all = cuts.reduce((sum, cut) => sum + cut, 0);
  const steps = cuts.map((cut) => 8 + Math.floor(Math.min(0.58, cut / all) * free));
  const missing = GRAMS / 0.01 - steps.reduce((sum, step) => sum + step, 0);
  steps[steps.indexOf(Math.min(...steps))]! += missing;
  const grams = Object.fromEntries(steps.map((step, i) => [`c${i + 1}`, Number((step * 0.01).toFixed(2))]));
  const ratios = Object.fromEntries(Object.entries(grams).map(([id, mass]) => [id, mass / GRAMS]));
  const planned = { ratios, grams, settings: {} };
  return { mix: name, blend: name, repeats: null, again: false, planned, why: 'invented' };
}
