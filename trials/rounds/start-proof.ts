import { z } from 'zod';
import { NumberById, type ProofRequest, type RoundView } from '../schema/api.ts';
import type { MixRecord } from '../store/records.ts';
import { makeRound } from './accept-round.ts';
import type { Context } from './context.ts';
import { findTrial } from './find.ts';
import { badInput, notFound } from './refusal.ts';

const Best = z.object({
  best: z.object({ ratios: NumberById, grams: NumberById, settings: NumberById.default({}) }),
});

/**
 * A round that proves the formula: weighed afresh under a name of its own, so that what is proved is the recipe and
 * not a bottle; beside it an earlier mix, where it is held against one.
 */
export function startProof(
  context: Context,
  trial: string,
  { reading, against, restHours }: z.infer<typeof ProofRequest>,
): RoundView {
  const { store } = context;
  findTrial(store, trial);
  const found = store.readings.find(trial, reading);
  if (!found) throw notFound('the set of proposals');
  if (found.kind !== 'next') throw badInput('reading', reading, 'a set of proposals, whose best is proved');
  const { best } = Best.parse(found.result);
  const earlier = store.rounds.list(trial).flatMap(({ round }) => store.rounds.mixes(trial, round));
  const names = new Set(earlier.flatMap(({ mix, blend }) => [mix, blend]));
  const mix = freeName(names);
  const formula: MixRecord = {
    mix,
    blend: mix,
    repeats: null,
    again: false,
    planned: best,
    why: 'The formula, weighed afresh to be proved blind.',
  };
  const other = earlier.find((one) => one.mix === against);
  if (against !== null && other === undefined)
    throw badInput('against', against, 'an earlier mix of this trial, or nothing for the reference');
  const present: MixRecord[] = other
    ? [{ ...other, again: true, why: 'What the formula is held against.' }]
    : [];
  return makeRound(context, trial, { mixes: [formula, ...present], reading: null, restHours });
}

function freeName(taken: ReadonlySet<string>): string {
  for (let n = 1; ; n++) {
    const name = n === 1 ? 'proof' : `proof${n}`;
    if (!taken.has(name)) return name;
  }
}
