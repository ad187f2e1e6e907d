import type { Fault, SittingRequest } from '../schema/api.ts';
import { makeFault } from '../schema/faults.ts';
import type { CupRecord, MixRecord, SittingRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { type Context, record, timeOf } from './context.ts';
import { drawTrays, type Tray } from './draw-trays.ts';
import { findRound, findTrial } from './find.ts';
import { conflict, Refusal } from './refusal.ts';
import { refuseTooMuchEthanol } from './sitting-ethanol.ts';
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
    const seed = drawSeed();
    const trays = drawTrays(request, seed, store.sittings.codesMet(where.trial));
    refuseStrongSitting(store, where, trays);
    return pourSitting(context, where, { request, seed, trays });
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
      const seat = { place, knowing: request.knowing.includes(tray.assessor), position: 0, heard: null };
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
  return {
    sitting: of.sitting,
    round: of.round,
    label,
    state: 'poured',
    key: 'sealed',
    seed: of.seed,
    questions: brief.attributes.map(({ id, name, scale }) => ({ id, name, scale })),
    rests: { betweenCups: restSeconds, afterFour: longRestSeconds },
    drawn: timeOf(context),
    opened: null,
    closed: null,
    keyOpened: null,
    keyWhy: null,
  };
}

function cupOf(assessor: string, cup: Tray['cups'][number]): CupRecord {
  const { position, code, mix, replicate } = cup;
  return { assessor, position, code, mix, replicate };
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

function refuseStrongSitting(store: Store, { trial, round }: Where, trays: readonly Tray[]): void {
  const tray = trays[0]!.cups.map(({ mix }) => mix);
  const mixes = store.rounds.mixes(trial, round).filter(({ mix }) => tray.includes(mix));
  refuseTooMuchEthanol(findTrial(store, trial).latest.brief, { cups: tray, mixes, tasters: trays.length });
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
