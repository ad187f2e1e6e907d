import { EngineError } from '../errors.ts';
import type { WeighedMix } from '../region/weighed-mix.ts';
import { decimal } from '../region/weighing-grid.ts';
import { type LeftoverBench, makeFromLeftovers } from './from-leftovers.ts';
import type { FromLeftovers, Leftover, LeftoverOnHand } from './leftover-types.ts';
import type { Proposal } from './next-types.ts';

/** What is on hand, and how long a round rests before it is tasted. */
export interface LeftoverShelf {
  onHand: readonly LeftoverOnHand[];
  /** All mixes as weighed, for the bottles' own shares. */
  mixes: readonly WeighedMix[];
  /** Hours; null or absent where not known: nothing is then too old. */
  restHours?: number | null | undefined;
}

/** Older than so many rests, a leftover tastes of its age and is only poured again as a check. */
const RESTS = 2;

/**
 * How each proposal is made from what is left. Bottles that are to be poured again are kept for that; what one
 * proposal pours the next no longer finds; what is older than twice the round's rest is not mixed in.
 *
 * @returns by proposal how it is made, and a warning for each bottle that is too old
 * @throws EngineError `bad-argument` where a leftover is of no weighed blend or its mass is negative
 */
export function pourProposals(
  proposals: readonly Proposal[],
  shelf: LeftoverShelf,
  bench: LeftoverBench,
): { made: FromLeftovers[]; warnings: string[] } {
  const { onHand, mixes, restHours = null } = shelf;
  const blendOf = new Map(mixes.map(({ mix, blend }) => [mix, blend]));
  const kept = new Set(proposals.flatMap(({ mix, again }) => (again ? [blendOf.get(mix)] : [])));
  const all = onHand.map((one): Leftover => ({ ...one, shares: sharesOf(one, mixes) }));
  const old = all.filter((_, i) => isOld(onHand[i]!, restHours));
  let usable = all.filter((one) => !old.includes(one) && !kept.has(one.blend));
  const ids = bench.region.space.components.map(({ id }) => id);
  const made = proposals.map((proposal) => {
    if (proposal.again) return pouredAgain(proposal, all, blendOf.get(proposal.mix)!);
    const wanted = ids.map((id) => proposal.grams[id]!);
    const one = makeFromLeftovers(wanted, usable, bench);
    usable = usable.map((leftover) => ({ ...leftover, grams: leftOf(leftover, one) }));
    return one;
  });
  return {
    made,
    warnings: old.map(
      ({ blend }) =>
        `${blend} is older than twice the round's rest: it is not mixed in, only poured again as a check.`,
    ),
  };
}

function sharesOf({ blend, grams }: LeftoverOnHand, mixes: readonly WeighedMix[]): readonly number[] {
  const weighed = mixes.find((mix) => mix.blend === blend);
  if (!weighed) throw new EngineError('bad-argument', 'leftovers', blend, 'a blend that was weighed');
  if (!(grams >= 0)) throw new EngineError('bad-argument', 'leftovers', grams, 'a mass of 0 g or more');
  return weighed.shares;
}

function isOld({ ageHours }: LeftoverOnHand, restHours: number | null): boolean {
  return restHours !== null && ageHours != null && ageHours > RESTS * restHours;
}

function leftOf({ blend, grams }: Leftover, { pours }: FromLeftovers): number {
  return decimal(grams - (pours.find(({ mix }) => mix === blend)?.grams ?? 0));
}

/** A mix poured again comes out of its own bottle as far as that reaches. */
function pouredAgain(
  { grams, ratios, mix }: Proposal,
  all: readonly Leftover[],
  blend: string,
): FromLeftovers {
  const batch = Object.values(grams).reduce((a, b) => a + b, 0);
  const left = all.find((one) => one.blend === blend)?.grams ?? 0;
  const poured = decimal(Math.min(left, batch));
  const rest = 1 - poured / batch;
  return {
    pours: poured > 0 ? [{ mix: blend, grams: poured }] : [],
    fresh: Object.fromEntries(
      Object.entries(grams).flatMap(([id, g]) => (rest > 1e-9 && g > 0 ? [[id, decimal(g * rest)]] : [])),
    ),
    ratios,
    saves: {
      grams: poured,
      money: null,
      weighings: rest > 1e-9 ? 0 : Object.values(grams).filter((g) => g > 0).length,
    },
    says:
      rest > 1e-9
        ? `${decimal(poured)} g of ${mix} are left; what the cups need beyond that is weighed afresh.`
        : `Poured from what is left of ${mix}: nothing to weigh.`,
  };
}
