/** How fair a set of serving orders is; 0 is the best. */
export interface OrderBalance {
  /** Over positions within a sitting, the largest of most minus fewest servings of a mix. */
  positionSpread: number;
  /** Over ordered pairs of mixes inside sittings, how often one follows the other: most minus fewest. */
  followSpread: number;
}

/**
 * Counts position and first-order carry-over balance (the criteria of Williams 1949 and of MacFie, Bratchell,
 * Greenhoff and Vallis 1989) over sittings.
 *
 * @param sittings each sitting's mixes in pouring order, as indices 0 … mixes-1
 */
export function countBalance(sittings: readonly (readonly number[])[], mixes: number): OrderBalance {
  const longest = Math.max(0, ...sittings.map((s) => s.length));
  const at = Array.from({ length: longest }, () => new Array<number>(mixes).fill(0));
  const after = Array.from({ length: mixes }, () => new Array<number>(mixes).fill(0));
  for (const sitting of sittings)
    sitting.forEach((mix, k) => {
      at[k]![mix]!++;
      if (k > 0) after[sitting[k - 1]!]![mix]!++;
    });
  const pairs = after.flatMap((row, i) => row.filter((_, j) => i !== j));
  return {
    positionSpread: Math.max(0, ...at.map(spread)),
    followSpread: pairs.length > 0 ? spread(pairs) : 0,
  };
}

/** How often a mix is poured straight after itself within a sitting. */
export function selfFollowing(sittings: readonly (readonly number[])[]): number {
  return sittings.reduce((sum, s) => sum + s.filter((mix, k) => k > 0 && s[k - 1] === mix).length, 0);
}

/** The spreads that counting alone allows: 0 where the servings divide evenly, else 1. */
export function leastBalance(lengths: readonly number[], mixes: number): OrderBalance {
  const longest = Math.max(0, ...lengths);
  const served = Array.from({ length: longest }, (_, k) => lengths.filter((n) => n > k).length);
  const joins = lengths.reduce((sum, n) => sum + Math.max(0, n - 1), 0);
  return {
    positionSpread: served.some((n) => n % mixes !== 0) ? 1 : 0,
    followSpread: mixes > 1 && joins % (mixes * (mixes - 1)) !== 0 ? 1 : 0,
  };
}

function spread(counts: readonly number[]): number {
  return Math.max(...counts) - Math.min(...counts);
}
