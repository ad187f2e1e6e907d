import { demoBrief, demoRoundOne } from '../demo/demo-round-one.ts';
import { demoTasters } from '../demo/demo-tasters.ts';
import { type SimulatedScore, simulateSitting } from '../demo/simulate-sitting.ts';
import { SittingRequest, type SittingSummary } from '../schema/api.ts';
import type { CupRecord, SeatKey, SittingRecord } from '../store/records.ts';
import { makeRound } from './accept-round.ts';
import { consentWords, giveConsent, noteProgress } from './consent.ts';
import type { Context } from './context.ts';
import { createTrial } from './create-trial.ts';
import { doseOf } from './dose.ts';
import { pourSitting } from './draw-sitting.ts';
import type { Tray } from './draw-trays.ts';
import { findSitting, findTrial } from './find.ts';
import { conflict } from './refusal.ts';
import { closeSitting, openKey, openSitting, type SittingPlace } from './sitting-life.ts';
import { sittingSummary } from './sitting-summary.ts';
import { messageId, takeAnswers } from './take-answers.ts';
import { weighMix } from './weigh-mix.ts';
import { componentGrams, latestWeighings } from './weighed.ts';

/** The demo trial's id in addresses. */
export const DEMO_TRIAL = 'demo';
const HOUR = 3_600_000;
/** The demo's first weighing lies this far back, so that its last sitting was two days ago. */
const BEGUN_HOURS_AGO = 145;
const DEMO = 'demo';

/**
 * Loads the invented demo trial, unless it is there: round 1 planned, weighed, tasted by the invented tasters and its
 * keys opened, all through the use cases that serve every trial, at the hours of the demo's story.
 * @param seed fixes codes, orders and noise of round 1
 */
export function loadDemo(context: Context, seed?: number): void {
  const { store } = context;
  if (store.trials.find(DEMO_TRIAL)) return;
  const begun = context.now().getTime() - BEGUN_HOURS_AGO * HOUR;
  const at = (hours: number): Context => ({ store, who: DEMO, now: () => new Date(begun + hours * HOUR) });
  const round = demoRoundOne(seed);
  store.write(() => {
    createTrial(at(-2), demoBrief(), { trial: DEMO_TRIAL, demo: true });
    planDemo(at(-1), round);
    for (const { tell } of storyOf(at, round)) tell();
  });
}

type DemoRound = ReturnType<typeof demoRoundOne>;

function planDemo(context: Context, { mixes }: DemoRound): void {
  makeRound(context, DEMO_TRIAL, {
    reading: null,
    restHours: 24,
    mixes: mixes.map(({ mix, blend, repeats, planned, ratios, dose }) => ({
      mix,
      blend,
      repeats,
      again: false,
      planned: { ratios, grams: planned, settings: { dose } },
      why:
        repeats === null
          ? 'Part of the first look at the whole region.'
          : `A fresh weighing of ${repeats}: shows how well a weighing repeats.`,
    })),
  });
}

/** Weighings and tastings in the order of their hours, so that the record reads as it happened. */
function storyOf(at: (hours: number) => Context, round: DemoRound): { hours: number; tell: () => void }[] {
  const bottles = round.mixes.filter(({ mix, blend }) => mix === blend);
  return [
    ...bottles.map(({ mix, weighed, mixedAtHours: hours, note }) => ({
      hours,
      tell: () => {
        weighMix(at(hours), { trial: DEMO_TRIAL, round: 1, mix }, { grams: weighed, note });
      },
    })),
    ...round.sittings.map((sitting) => ({
      hours: sitting.tastedAtHours,
      tell: () => tasteDemo(at(sitting.tastedAtHours), round, sitting),
    })),
  ].sort((a, b) => a.hours - b.hours);
}

function tasteDemo(
  context: Context,
  round: DemoRound,
  { label, trays }: DemoRound['sittings'][number],
): void {
  const replicated = trays.map(
    (tray): Tray => ({
      assessor: tray.assessor,
      cups: tray.cups.map((cup) => ({ ...cup, replicate: '1' })),
    }),
  );
  const request = SittingRequest.parse({
    label,
    assessors: trays.map(({ assessor }) => assessor),
    mixes: [...new Set(trays[0]!.cups.map(({ mix }) => mix))],
    restSeconds: 120,
  });
  const drawn = pourSitting(
    context,
    { trial: DEMO_TRIAL, round: 1 },
    { request, seed: 1, trays: replicated },
  );
  const place = { trial: DEMO_TRIAL, sitting: drawn.sitting };
  openSitting(context, place);
  answerAs(
    context,
    place,
    round.scores.filter(({ session }) => session === label),
  );
  closeSitting(context, place);
  openKey(context, place, DEMO);
}

/** Lets the invented tasters of the demo who have not begun answer an open sitting. */
export function simulateAnswers(context: Context, place: SittingPlace): SittingSummary {
  const { store } = context;
  return store.write(() => {
    if (!findTrial(store, place.trial).demo) throw conflict('only the demo has invented tasters');
    const sitting = findSitting(store, place.trial, place.sitting);
    if (sitting.state !== 'open') throw conflict('open the sitting first');
    const begun = new Set(store.answers.bySeat(place.trial, place.sitting).map(({ assessor }) => assessor));
    const invented = new Set(demoTasters().map(({ name }) => name));
    const cups = store.sittings
      .cups(place.trial, place.sitting)
      .filter(({ assessor }) => invented.has(assessor) && !begun.has(assessor));
    if (cups.length === 0) throw conflict('no invented taster of this sitting is left to answer');
    answerAs({ ...context, who: DEMO }, place, simulated(context, place.trial, sitting, cups));
    return sittingSummary(store, place.trial, sitting);
  });
}

function simulated(
  { store }: Context,
  trial: string,
  sitting: SittingRecord,
  cups: readonly CupRecord[],
): SimulatedScore[] {
  const { brief } = findTrial(store, trial).latest;
  const weighings = latestWeighings(store, trial);
  const mixes = store.rounds
    .list(trial)
    .flatMap(({ round }) => store.rounds.mixes(trial, round))
    .filter(({ blend }) => weighings.has(blend))
    .map((mix) => ({
      mix: mix.mix,
      grams: Object.fromEntries(componentGrams(weighings.get(mix.blend)!.grams)),
      dose: doseOf(brief, mix) ?? 0,
    }));
  const assessors = [...new Set(cups.map(({ assessor }) => assessor))];
  const trays = assessors.map((assessor) => ({
    assessor,
    cups: cups.filter((cup) => cup.assessor === assessor),
  }));
  return simulateSitting({ mixes, sittingLabel: sitting.label, trays, seed: sitting.seed });
}

/** Consent, answers and progress of invented tasters, as their phones would send them. */
function answerAs(context: Context, place: SittingPlace, scores: readonly SimulatedScore[]): void {
  const { version } = consentWords(findTrial(context.store, place.trial).latest.brief);
  for (const assessor of new Set(scores.map((score) => score.assessor))) {
    const seat = { ...place, assessor };
    const cups = context.store.sittings.cupsOf(seat);
    giveConsent(context, seat, version);
    takeAnswers(context, seat, messagesOf(seat, scores, cups));
    noteProgress(context, seat, cups.length);
  }
}

function messagesOf(seat: SeatKey, scores: readonly SimulatedScore[], cups: readonly CupRecord[]) {
  const phone = messageId(['phone', seat.assessor]);
  const own = scores.filter(({ assessor }) => assessor === seat.assessor);
  return own
    .flatMap(({ position, scores: marks }) => {
      const { code } = cups.find((cup) => cup.position === position)!;
      return Object.entries(marks).map(([question, value]) => ({ code, question, value }));
    })
    .map((answer, count) => ({ id: messageId([phone, String(count)]), ...answer, phone, count }));
}
