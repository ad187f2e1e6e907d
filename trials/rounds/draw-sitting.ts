import type { Fault, SittingRequest } from '../schema/api.ts';
import { makeFault } from '../schema/faults.ts';
import type { CupRecord, MixRecord, SittingRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { type Context, record, timeOf } from './context.ts';
import { cupsOfOne, drawTrays, type Tray } from './draw-trays.ts';
import { findRound, findTrial } from './find.ts';
import { conflict, Refusal } from './refusal.ts';
import { refuseTooMuchEthanol } from './sitting-ethanol.ts';
import { mannerOf, questionsOf, refuseBadTest, usualRest } from './sitting-manner.ts';
import { drawSeed, drawToken, hashToken } from './tokens.ts';
import { latestWeighings } from './weighed.ts';

/** A drawn sitting and, this once, the token of each taster's link. */
export interface DrawnSitting {
  sitting: string;
  tokens: { assessor: string; token: string }[];
}

interface Where {
  trial: string;
  round: number;
}

/**
 * Draws codes and serving orders for a sitting from a seed of the operating system, sealed with the key, and a
 * token for each taster.
 */
export function drawSitting(context: Context, where: Where, request: SittingRequest): DrawnSitting {
  const { store } = context;
  return store.write(() => {
    refuseBadRequest(store, where, request);
    const drawn = drawFairly(store, where, request);
    refuseStrongSitting(store, where, request);
    return pourSitting(context, where, { request, ...drawn });
  });
}

/** Stores a sitting whose trays are given. */
export function pourSitting(
  context: Context,
  { trial, round }: Where,
  drawn: { request: SittingRequest; seed: number; trays: readonly Tray[] },
): DrawnSitting {
  const { store } = context;
  const { request, seed, trays } = drawn;
  return store.write(() => {
    const sitting = `s${store.sittings.list(trial).length + 1}`;
    store.sittings.add(trial, sittingOf(context, trial, { sitting, round, request, seed }));
    const tokens = trays.map((tray, place) => {
      const token = drawToken();
      const seat = {
        place,
        knowing: request.knowing.includes(tray.assessor),
        position: 0,
        heard: null,
        absent: false,
      };
      store.sittings.addSeat({ trial, sitting, assessor: tray.assessor }, seat, hashToken(token));
      for (const cup of tray.cups) store.sittings.addCup({ trial, sitting }, cupOf(tray.assessor, cup));
      return { assessor: tray.assessor, token };
    });
    record(context, trial, 'drew a sitting', `${JSON.stringify(request.label)}, ${trays.length} tasters`);
    return { sitting, tokens };
  });
}

function sittingOf(
  context: Context,
  trial: string,
  of: { sitting: string; round: number; request: SittingRequest; seed: number },
): SittingRecord {
  const { brief } = findTrial(context.store, trial).latest;
  const { label, restSeconds, longRestSeconds } = of.request;
  const between = restSeconds ?? usualRest(brief);
  return {
    sitting: of.sitting,
    round: of.round,
    label,
    state: 'poured',
    key: 'sealed',
    seed: of.seed,
    questions: questionsOf(brief, of.request),
    rests: { betweenCups: between, afterFour: longRestSeconds },
    manner: mannerOf(of.request),
    drawn: timeOf(context),
    opened: null,
    closed: null,
    keyOpened: null,
    keyWhy: null,
  };
}

function cupOf(assessor: string, cup: Tray['cups'][number]): CupRecord {
  const { position, code, mix, replicate, part = null } = cup;
  return { assessor, position, code, mix, replicate, part };
}

function refuseBadRequest(store: Store, { trial, round }: Where, request: SittingRequest): void {
  findRound(store, trial, round);
  const mixes = store.rounds.mixes(trial, round);
  const faults = [
    ...repeated('assessors', request.assessors),
    ...repeated('mixes', request.mixes),
    ...strangers('knowing', request.knowing, request.assessors, 'one of the assessors'),
    ...strangers(
      'mixes',
      request.mixes,
      mixes.map(({ mix }) => mix),
      `a mix of round ${round}`,
    ),
  ];
  if (faults.length > 0) throw new Refusal('bad-input', faults[0]!.message, faults);
  refuseBadTest(request);
  refuseUnweighed(store, trial, mixes, request.mixes);
  if (store.sittings.list(trial).some(({ label }) => label === request.label))
    throw conflict(`a sitting called ${request.label} exists: give this one another name`);
}

function refuseUnweighed(
  store: Store,
  trial: string,
  mixes: readonly MixRecord[],
  wanted: readonly string[],
): void {
  const weighings = latestWeighings(store, trial);
  const missing = mixes.filter(({ mix, blend }) => wanted.includes(mix) && !weighings.has(blend));
  if (missing.length > 0) throw conflict(`not weighed yet: ${missing.map(({ mix }) => mix).join(', ')}`);
}

/** Draws that are looked at before one is taken in which the trays stand in the order of mixing. */
const MOST_DRAWS = 20;

/**
 * A seed and its trays. Where most trays would stand in the very order in which the bottles were weighed (one taster,
 * a few cups), age and place in the order could not be told apart: another seed is drawn.
 */
function drawFairly(store: Store, { trial, round }: Where, request: SittingRequest) {
  const met = store.sittings.codesMet(trial);
  const weighed = latestWeighings(store, trial);
  const byAge = store.rounds
    .mixes(trial, round)
    .filter(({ mix, again }) => request.mixes.includes(mix) && !again)
    .sort((a, b) => (weighed.get(a.blend)!.at < weighed.get(b.blend)!.at ? -1 : 1))
    .map(({ mix }) => mix);
  for (let drawn = 1; ; drawn++) {
    const seed = drawSeed();
    const trays = drawTrays(request, seed, met);
    const sorted = trays.filter(({ cups }) => standsAs(cups, byAge)).length;
    if (2 * sorted <= trays.length || drawn >= MOST_DRAWS || request.test) return { seed, trays };
  }
}

/** Whether three mixes or more are first met in a given order. */
function standsAs(cups: Tray['cups'], order: readonly string[]): boolean {
  const first = [...new Set(cups.map(({ mix }) => mix).filter((mix) => order.includes(mix)))];
  return first.length >= 3 && first.every((mix, i) => mix === order[i]);
}

function refuseStrongSitting(store: Store, { trial, round }: Where, request: SittingRequest): void {
  const tray = cupsOfOne(request);
  const mixes = store.rounds.mixes(trial, round).filter(({ mix }) => tray.includes(mix));
  refuseTooMuchEthanol(findTrial(store, trial).latest.brief, {
    cups: tray,
    mixes,
    tasters: request.assessors.length,
  });
}

function repeated(where: string, names: readonly string[]): Fault[] {
  const twice = names.filter((name, i) => names.indexOf(name) !== i);
  return twice.map((name) => makeFault(where, name, 'each name once'));
}

function strangers(
  where: string,
  names: readonly string[],
  known: readonly string[],
  allowed: string,
): Fault[] {
  return names.filter((name) => !known.includes(name)).map((name) => makeFault(where, name, allowed));
}
