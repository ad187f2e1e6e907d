import type { z } from 'zod';
import type { RatioFit } from '../../engine/model/fit-types.ts';
import type { NextRequest, PlanRequest, PredictRequest, Reading, WhatIf } from '../schema/api.ts';
import type { Brief } from '../schema/brief.ts';
import { checkBrief } from '../schema/check-brief.ts';
import type { ReadingRecord } from '../store/records.ts';
import { type Context, record, timeOf } from './context.ts';
import { findTrial } from './find.ts';
import { gather, weighedMixes } from './gather.ts';
import { ownLimitsIn } from './own-limits.ts';
import { badInput, conflict, notFound, Refusal } from './refusal.ts';
import { VERSION } from './version.ts';
import { type NoiseById, noiseFromFit } from './weigh-up-plan.ts';

/** A computation that has all it needs: the same kind, input and seed give the same result. */
export interface Assignment {
  trial: string;
  kind: ReadingRecord['kind'];
  round: number | null;
  seed: number;
  input: unknown;
}

/** The command's default seed too, so that screen and command print the same. */
const SEED = 1;

/** What planning needs: the brief and what has been weighed already. */
export function assignPlan(
  context: Context,
  trial: string,
  request: z.infer<typeof PlanRequest>,
): Assignment {
  const { brief } = findTrial(context.store, trial).latest;
  const { seed = SEED, ...options } = request;
  const already = weighedMixes(context.store, trial, brief);
  const foundNoise = noiseFound(context, trial);
  const own = context.store.shelf.materials();
  const limits = ownLimitsIn(context.store);
  const beside = {
    ...(own.length > 0 ? { shelf: own } : {}),
    ...(limits.length > 0 ? { limits } : {}),
  };
  const input = { brief, already, foundNoise, options, ...beside };
  return { trial, kind: 'plan', round: null, seed, input };
}

/** How much scores scatter, as the last reading of this trial found; nothing where it has no fit. */
function noiseFound({ store }: Context, trial: string): NoiseById {
  const head = store.readings.heads(trial).findLast(({ kind }) => kind === 'read');
  const stored = head && store.readings.find(trial, head.reading);
  const fit = (stored?.result as { fit?: RatioFit } | undefined)?.fit;
  return fit?.attributes ? noiseFromFit(fit) : {};
}

/** What reading needs: mixes as weighed, scores of all opened sittings, and whose scores are set aside. */
export function assignReading(context: Context, trial: string, setAside: readonly string[]): Assignment {
  const { tasted, round } = tastedSoFar(context, trial, setAside);
  return { trial, kind: 'read', round, seed: SEED, input: tasted };
}

/** What proposing the next mixes needs. */
export function assignNext(
  context: Context,
  trial: string,
  request: z.infer<typeof NextRequest>,
): Assignment {
  const { seed = SEED, count, setAside, onHand, whatIf } = request;
  const { tasted, round } = tastedSoFar(context, trial, setAside);
  if (onHand !== undefined) refuseStrangers('onHand', onHand, tasted.brief.components);
  const input = { ...tasted, options: { count }, ...(onHand === undefined ? {} : { onHand }) };
  if (whatIf === undefined) return { trial, kind: 'next', round, seed, input };
  const brief = triedOut(tasted.brief, whatIf);
  return { trial, kind: 'next', round, seed, input: { ...input, brief, whatIf } };
}

/** The brief with other targets and limits, held against the same rules. */
function triedOut(brief: Brief, { targets, components }: WhatIf): Brief {
  refuseStrangers('whatIf.targets', targets, brief.attributes);
  refuseStrangers('whatIf.components', components, brief.components);
  const judged = checkBrief({
    ...brief,
    attributes: brief.attributes.map((one) =>
      Object.hasOwn(targets, one.id) ? { ...one, target: targets[one.id] } : one,
    ),
    components: brief.components.map((one) =>
      Object.hasOwn(components, one.id) ? { ...one, ...components[one.id] } : one,
    ),
  });
  if ('faults' in judged) throw new Refusal('bad-input', judged.faults[0]!.message, judged.faults);
  return judged.brief;
}

/** What predicting given ratios needs. */
export function assignPrediction(
  context: Context,
  trial: string,
  request: z.infer<typeof PredictRequest>,
): Assignment {
  const { tasted, round } = tastedSoFar(context, trial, request.setAside);
  const { brief } = tasted;
  request.rows.forEach((row, i) => {
    refuseStrangers(`rows[${i}].ratios`, row.ratios, brief.components);
    refuseStrangers(`rows[${i}].settings`, row.settings, brief.settings);
  });
  return { trial, kind: 'predict', round, seed: SEED, input: { ...tasted, rows: request.rows } };
}

function refuseStrangers(where: string, values: object, known: readonly { id: string }[]): void {
  const ids = known.map(({ id }) => id);
  const stranger = Object.keys(values).find((id) => !ids.includes(id));
  if (stranger !== undefined) throw badInput(where, stranger, ids.join(', ') || 'nothing');
}

function tastedSoFar(context: Context, trial: string, setAside: readonly string[]) {
  const { store } = context;
  const { brief } = findTrial(store, trial).latest;
  const gathered = gather(store, trial, brief);
  if (gathered.servings.length === 0)
    throw conflict('nothing can be read yet: taste a sitting, then open its key');
  const known = new Set(gathered.servings.map(({ assessor }) => assessor));
  const stranger = setAside.find((name) => !known.has(name));
  if (stranger !== undefined) throw badInput('setAside', stranger, [...known].join(', '));
  if (setAside.length >= known.size && [...known].every((name) => setAside.includes(name)))
    throw badInput('setAside', setAside, 'to leave at least one assessor');
  const opened = store.sittings.list(trial).filter(({ key }) => key === 'opened');
  const round = Math.max(...opened.map((sitting) => sitting.round));
  return { tasted: { brief, ...gathered, setAside: [...setAside] }, round };
}

/** Stores a result with what it was computed from; returns its name. */
export function storeReading(context: Context, assignment: Assignment, result: unknown): string {
  const { store } = context;
  const { trial, kind, round, seed, input } = assignment;
  return store.write(() => {
    const reading = `${kind}-${store.readings.count(trial, kind) + 1}`;
    store.readings.add(trial, {
      reading,
      kind,
      round,
      at: timeOf(context),
      seed,
      version: VERSION,
      input,
      result,
    });
    record(context, trial, 'stored a result', reading);
    return reading;
  });
}

/** A stored result with what it was computed from. */
export function readReading(context: Context, trial: string, reading: string): Reading {
  const found = context.store.readings.find(trial, reading);
  if (!found) throw notFound('this result');
  return found;
}
