import { z } from 'zod';
import { nextMixNames } from '../../engine/aim/mix-names.ts';
import { NumberById, RoundMix, type RoundRequest, type RoundView } from '../schema/api.ts';
import { Name } from '../schema/brief.ts';
import type { MixRecord } from '../store/records.ts';
import { type Context, record, timeOf } from './context.ts';
import { findTrial } from './find.ts';
import { ownMixes } from './own-mixes.ts';
import { badInput, conflict, notFound } from './refusal.ts';
import { refuseBadMixes } from './round-mixes.ts';
import { roundView } from './round-view.ts';

const Proposed = z.object({
  mix: Name,
  blend: Name.optional(),
  repeats: z.string().nullish(),
  again: z.boolean().optional(),
  ratios: NumberById,
  grams: NumberById,
  settings: NumberById.default({}),
  weigh: RoundMix.shape.planned.shape.weigh,
  why: z.string().default(''),
});
const PlanResult = z.object({ mixes: z.array(Proposed) });
const NextResult = z.object({ proposals: z.array(Proposed), checkMix: Proposed.nullish() });

/** Makes a plan, or proposals, or some of their mixes, or the maker's own, the next round of a trial. */
export function acceptRound(
  context: Context,
  trial: string,
  request: z.infer<typeof RoundRequest>,
): RoundView {
  const { latest } = findTrial(context.store, trial);
  const { reading = null, only, own = [], restHours } = request;
  const offered =
    reading === null ? [] : chosen(offeredMixes(context, trial, reading, only !== undefined), only);
  const taken = [...roundsMixes(context, trial), ...offered].map(({ mix }) => mix);
  const mixes = [...offered, ...ownMixes(latest.brief, own, nextMixNames(taken, own.length))];
  return makeRound(context, trial, { mixes, reading, restHours });
}

/** All mixes of a stored plan or set of proposals; the check mix offered beside these only where mixes are named. */
function offeredMixes({ store }: Context, trial: string, reading: string, withCheck: boolean): MixRecord[] {
  const found = store.readings.find(trial, reading);
  if (!found) throw notFound('the plan or set of proposals');
  if (found.kind === 'plan') return PlanResult.parse(found.result).mixes.map(toMix);
  if ((found.input as { whatIf?: unknown }).whatIf !== undefined)
    throw badInput(
      'reading',
      reading,
      'proposals for the brief as it stands, not for what was only tried out',
    );
  if (found.kind === 'next') {
    const { proposals, checkMix } = NextResult.parse(found.result);
    return (withCheck && checkMix ? [...proposals, checkMix] : proposals).map(toMix);
  }
  throw badInput('reading', reading, 'a plan or a set of proposals');
}

function roundsMixes({ store }: Context, trial: string): MixRecord[] {
  return store.rounds.list(trial).flatMap(({ round }) => store.rounds.mixes(trial, round));
}

interface NewRound {
  mixes: readonly MixRecord[];
  /** The stored plan or proposals they come from; null where there is none. */
  reading: string | null;
  restHours: number;
}

/** Adds a round of given mixes, checked whole against the brief and the mixes that exist. */
export function makeRound(context: Context, trial: string, made: NewRound): RoundView {
  const { store } = context;
  const round = store.write(() => {
    const { latest } = findTrial(store, trial);
    const earlier = store.rounds.list(trial);
    if (made.reading !== null && earlier.some(({ reading }) => reading === made.reading))
      throw conflict('this plan has been made a round already');
    refuseBadMixes(store, trial, latest.brief, made.mixes);
    const number = (earlier.at(-1)?.round ?? 0) + 1;
    const { reading, restHours } = made;
    store.rounds.add(trial, {
      round: number,
      briefVersion: latest.version,
      reading,
      restHours,
      at: timeOf(context),
    });
    store.rounds.addMixes(trial, number, made.mixes);
    record(context, trial, 'accepted a round', `round ${number}, ${made.mixes.length} mixes`);
    return number;
  });
  return roundView(context, trial, round);
}

function toMix(p: z.infer<typeof Proposed>): MixRecord {
  const { ratios, grams, settings, weigh } = p;
  const planned = { ratios, grams, settings, ...(weigh ? { weigh } : {}) };
  const { mix, why } = p;
  return { mix, blend: p.blend ?? mix, repeats: p.repeats ?? null, again: p.again ?? false, planned, why };
}

function chosen(mixes: readonly MixRecord[], only: readonly string[] | undefined): MixRecord[] {
  if (only === undefined) return [...mixes];
  const names = mixes.map(({ mix }) => mix);
  const stranger = only.find((name) => !names.includes(name));
  if (stranger !== undefined) throw badInput('only', stranger, names.join(', '));
  return mixes.filter(({ mix }) => only.includes(mix));
}
