import { EngineError } from '../errors.ts';
import type { Region } from '../region/region.ts';
import type { Spot } from './candidate-table.ts';

/** A component of which the new mixes together may take only so much. */
export interface Scarce {
  component: number;
  /** In shares: grams over the batch. */
  most: number;
}

/** Mixes and how often each is weighed. */
export interface Taking {
  spots: readonly Spot[];
  weights: ArrayLike<number>;
}

/**
 * What is left for the mixes to be found, after pinned ones.
 *
 * @param caps most grams in all, by component id
 * @throws EngineError `bad-argument` where even the leanest mixes take more
 */
export function scarceOf(
  region: Region,
  caps: Readonly<Record<string, number>>,
  { batch, pinned, bottles }: { batch: number; pinned: readonly Spot[]; bottles: number },
): Scarce[] {
  return region.space.components.flatMap(({ id }, component) => {
    if (!Object.hasOwn(caps, id)) return [];
    const taken = pinned.reduce((sum, { shares }) => sum + shares[component]!, 0);
    const most = caps[id]! / batch - taken;
    const least = bottles * region.low[component]!;
    if (most < least - 1e-9)
      throw new EngineError(
        'bad-argument',
        `atMost.${id}`,
        caps[id],
        `at least ${Number(((least + taken) * batch).toPrecision(4))} g: ${bottles + pinned.length} bottles need that much`,
      );
    return [{ component, most }];
  });
}

/** Whether a mix may come in place of another: within what there is, or at least taking less than before. */
export function staysWithin(scarce: readonly Scarce[], taking: Taking, row: number, spot: Spot): boolean {
  return scarce.every(({ component, most }) => {
    const change = taking.weights[row]! * (spot.shares[component]! - taking.spots[row]!.shares[component]!);
    return change < -1e-12 || useOf(taking, component) + change <= most + 1e-9;
  });
}

export function useOf({ spots, weights }: Taking, component: number): number {
  return spots.reduce((sum, { shares }, r) => sum + weights[r]! * shares[component]!, 0);
}

/** Replaces the mixes that take most by the leanest candidate until all stay within; row and candidate of each. */
export function economise(
  scarce: readonly Scarce[],
  { spots, weights }: Taking,
  candidates: readonly Spot[],
): [row: number, candidate: number][] {
  const now = [...spots];
  const replaced: [number, number][] = [];
  for (const { component, most } of scarce) {
    const share = (spot: Spot) => spot.shares[component]!;
    const leanest = candidates.reduce(
      (best, spot, c) => (share(spot) < share(candidates[best]!) ? c : best),
      0,
    );
    for (let k = 0; k < now.length && useOf({ spots: now, weights }, component) > most + 1e-9; k++) {
      const row = now.reduce((best, spot, r) => (share(spot) > share(now[best]!) ? r : best), 0);
      now[row] = candidates[leanest]!;
      replaced.push([row, leanest]);
    }
  }
  return replaced;
}
