import type { z } from 'zod';
import type { Fault, RoundView, WeighingRequest } from '../schema/api.ts';
import type { Brief } from '../schema/brief.ts';
import { makeFault } from '../schema/faults.ts';
import type { MixRecord } from '../store/records.ts';
import { type Context, record, timeOf } from './context.ts';
import { findRound, findTrial } from './find.ts';
import { conflict, notFound, Refusal } from './refusal.ts';
import { roundView } from './round-view.ts';
import { takeFromLots } from './take-from-lots.ts';
import { blendsBefore } from './weighed.ts';

interface Where {
  trial: string;
  round: number;
  mix: string;
}

/**
 * Stores what the balance showed for a mix. Mixes out of one bottle are weighed together. Weighing again replaces
 * what counts and keeps what stood before; bottles of the shelf give what was weighed. A slip is no fault: what was weighed counts.
 */
export function weighMix(context: Context, where: Where, sent: z.infer<typeof WeighingRequest>): RoundView {
  const { store } = context;
  context.store.write(() => {
    findRound(store, where.trial, where.round);
    const mix = store.rounds.mixes(where.trial, where.round).find((one) => one.mix === where.mix);
    if (!mix) throw notFound(`mix ${where.mix} in round ${where.round}`);
    refuseEarlierBottle(store, where, mix);
    const grams = checkGrams(findTrial(store, where.trial).latest.brief, mix, sent.grams);
    const at = timeOf(context);
    store.rounds.addWeighing(where.trial, {
      round: where.round,
      blend: mix.blend,
      at,
      grams,
      note: sent.note,
    });
    const { trial, round } = where;
    takeFromLots(context, { trial, round, blend: mix.blend, at, grams, lots: sent.lots });
    record(context, where.trial, 'weighed', `bottle ${JSON.stringify(mix.blend)} of round ${where.round}`);
  });
  return roundView(context, where.trial, where.round);
}

function refuseEarlierBottle(store: Context['store'], where: Where, mix: MixRecord): void {
  if (!mix.again && !blendsBefore(store, where.trial, where.round).has(mix.blend)) return;
  throw conflict(
    `${mix.mix} is poured from bottle ${mix.blend} of an earlier round: correct the weighing there, or make a new mix`,
  );
}

function checkGrams(
  brief: Brief,
  mix: MixRecord,
  grams: Readonly<Record<string, number>>,
): Record<string, number> {
  const faults: Fault[] = [];
  const ids = brief.components.map(({ id }) => id);
  for (const [key, value] of Object.entries(grams)) {
    if (!isComponentKey(ids, key)) faults.push(makeFault('grams', key, `a component (${ids.join(', ')})`));
    if (!(value >= 0)) faults.push(makeFault(`grams.${key}`, value, '0 or more'));
  }
  for (const id of ids)
    if ((mix.planned.ratios[id] ?? 0) > 0 && !Object.keys(grams).some((key) => key.split('@')[0] === id))
      faults.push(makeFault(`grams.${id}`, undefined, 'what the balance showed for it'));
  if (faults.length === 0 && !Object.values(grams).some((value) => value > 0))
    faults.push(makeFault('grams', 0, 'a mass above 0 for at least one component'));
  if (faults.length > 0) throw new Refusal('bad-input', faults[0]!.message, faults);
  return { ...grams };
}

function isComponentKey(ids: readonly string[], key: string): boolean {
  const [id = '', strength, ...rest] = key.split('@');
  if (!ids.includes(id) || rest.length > 0) return false;
  if (strength === undefined) return true;
  return /^\d+(\.\d+)?$/.test(strength) && Number(strength) > 0 && Number(strength) < 100;
}
