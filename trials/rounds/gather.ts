import type { AsideAnswer } from '../../engine/panel/asides/aside-types.ts';
import { type Serving, WARMUP, type WeighedMix } from '../../engine/panel/observations.ts';
import type { Brief } from '../schema/brief.ts';
import type { CountedAnswer, SittingRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { markOf } from './fit-answer.ts';
import { componentGrams, latestWeighings } from './weighed.ts';
import { counted } from './words.ts';

/** What the engine reads: mixes as weighed and cups as scored. */
export interface Gathered {
  mixes: WeighedMix[];
  servings: Serving[];
  /** What was asked beside the scales, and answered. */
  asides: AsideAnswer[];
  /** Assessors who know the formula. */
  knowing: string[];
  /** What was left out, and why. */
  warnings: string[];
}

/** Everything weighed and, of the sittings whose key is open, everything tasted in a trial. */
export function gather(store: Store, trial: string, brief: Brief): Gathered {
  const sittings = store.sittings.list(trial);
  const readable = sittings.filter(({ key }) => key === 'opened');
  const sealed = sittings.filter(({ key }) => key === 'sealed');
  const seats = readable.flatMap(({ sitting }) => store.sittings.seats(trial, sitting));
  const knowing = seats.filter((seat) => seat.knowing).map(({ assessor }) => assessor);
  return {
    mixes: weighedMixes(store, trial, brief),
    servings: readable.flatMap((sitting) => servingsOf(store, trial, sitting, brief)),
    asides: readable.flatMap((sitting) => asidesOf(store, trial, sitting, brief)),
    knowing: [...new Set(knowing)],
    warnings: [
      ...sealed.map(({ label }) => `${label}: the key is sealed, so its scores are not read`),
      ...readable.flatMap(earlyWarning),
      ...readable.flatMap((sitting) => lateWarning(store, trial, sitting)),
    ],
  };
}

/** Every mix that has been weighed, its shares from the grams that the balance showed. */
export function weighedMixes(store: Store, trial: string, brief: Brief): WeighedMix[] {
  const weighings = latestWeighings(store, trial);
  return store.rounds.list(trial).flatMap(({ round }) =>
    store.rounds
      .mixes(trial, round)
      .filter(({ again, blend }) => !again && weighings.has(blend))
      .map(({ mix, blend, planned }) => ({
        mix,
        blend,
        shares: sharesOf(brief, weighings.get(blend)!.grams),
        settings: brief.settings.map(({ id }) => planned.settings[id]!),
        round: String(round),
      })),
  );
}

function sharesOf(brief: Brief, weighed: Readonly<Record<string, number>>): number[] {
  const grams = componentGrams(weighed);
  const list = brief.components.map(({ id }) => grams.get(id) ?? 0);
  const total = list.reduce((sum, g) => sum + g, 0);
  return list.map((g) => g / total);
}

/** Cups with at least one mark; the warm-up is never analysed. */
function servingsOf(store: Store, trial: string, sitting: SittingRecord, brief: Brief): Serving[] {
  const hoursOf = agesAt(store, trial, sitting);
  const answers = new Map(
    store.answers.counted(trial, sitting.sitting, false).map((one) => [cupKey(one), markOf(one.value)]),
  );
  return store.sittings
    .cups(trial, sitting.sitting)
    .filter(({ mix }) => mix !== WARMUP)
    .map(({ mix, assessor, replicate, position, code }) => ({
      mix,
      assessor,
      session: sitting.label,
      replicate,
      // Where old files do not say who tasted what first, the numbering of the cups says nothing.
      position: sitting.manner.old?.places === false ? null : position,
      hours: hoursOf(mix),
      scores: brief.attributes.map(({ id }) => answers.get(cupKey({ assessor, code, question: id })) ?? null),
    }))
    .filter(({ scores }) => scores.some((score) => score !== null));
}

/**
 * How long a mix's bottle had stood when the sitting opened, hours: from the last weighing before, since one that was put
 * right afterwards changed no bottle. Null where old files do not say.
 */
function agesAt(store: Store, trial: string, { opened, manner }: SittingRecord) {
  const at = opened === null || manner.old !== undefined ? null : Date.parse(opened);
  const weighed = new Map<string, number>();
  for (const { blend, at: then } of store.rounds.weighings(trial))
    if (at !== null && Date.parse(then) <= at) weighed.set(blend, Date.parse(then));
  const blends = new Map(
    store.rounds
      .list(trial)
      .flatMap(({ round }) =>
        store.rounds.mixes(trial, round).map(({ mix, blend }) => [mix, blend] as const),
      ),
  );
  return (mix: string): number | null => {
    const then = weighed.get(blends.get(mix) ?? '');
    return at === null || then === undefined ? null : (at - then) / 3_600_000;
  };
}

/** Places and words for cups; a blank says nothing. */
function asidesOf(store: Store, trial: string, sitting: SittingRecord, brief: Brief): AsideAnswer[] {
  if (brief.asides.length === 0) return [];
  const cups = new Map(store.sittings.cups(trial, sitting.sitting).map((cup) => [seatKey(cup), cup]));
  return store.answers.counted(trial, sitting.sitting, false).flatMap((one) => {
    const cup = cups.get(seatKey(one));
    const asked = brief.asides.some(({ id }) => id === one.question);
    if (!asked || one.value === null || cup === undefined || cup.mix === WARMUP) return [];
    const { mix, assessor, replicate } = cup;
    return [{ question: one.question, assessor, session: sitting.label, replicate, mix, value: one.value }];
  });
}

function seatKey({ assessor, code }: { assessor: string; code: string }): string {
  return JSON.stringify([assessor, code]);
}

function cupKey({ assessor, code, question }: Pick<CountedAnswer, 'assessor' | 'code' | 'question'>): string {
  return JSON.stringify([assessor, code, question]);
}

/** The key was opened before the tasting had ended: whoever looked may have spoken. */
function earlyWarning({ label, closed, keyOpened, keyWhy }: SittingRecord): string[] {
  if (closed !== null && keyOpened !== null && closed <= keyOpened) return [];
  return [`${label}: the key was opened before the tasting had ended (${keyWhy})`];
}

function lateWarning(store: Store, trial: string, { sitting, label, keyWhy }: SittingRecord): string[] {
  const late = store.answers.bySeat(trial, sitting).reduce((sum, seat) => sum + seat.late, 0);
  if (late === 0) return [];
  return [`${label}: ${counted(late, 'answer')} came after the key was opened (${keyWhy}) and are not read`];
}
