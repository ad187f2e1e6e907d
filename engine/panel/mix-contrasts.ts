/**
 * Contrasts of mix means that test whether all are equal: each mix in turn against the mean, weighted by cups, of
 * the first and of those still to come. Every choice of contrasts gives the same F; with unequal numbers of cups
 * Satterthwaite's denominator depends a little on it. This one is that of the usual analysis of variance table of a
 * single factor with its levels in the order of their code points (the Doolittle factors of X'X that Kuznetsova,
 * Brockhoff and Christensen 2017, section 2, use), so that degrees of freedom can be compared with other software.
 *
 * @param mixes names, one a column
 * @param cups number of scores of each mix
 * @returns mixes - 1 rows of weights on the means, in the order of `mixes`
 */
export function mixContrasts(mixes: readonly string[], cups: readonly number[]): Float64Array[] {
  const order = [...mixes.keys()].sort((a, b) => (mixes[a]! < mixes[b]! ? -1 : 1));
  const first = order[0]!;
  return order.slice(1).map((own, at) => {
    const rest = [first, ...order.slice(at + 2)];
    const total = rest.reduce((sum, m) => sum + cups[m]!, 0);
    const row = new Float64Array(mixes.length);
    row[own] = 1;
    for (const m of rest) row[m] = -cups[m]! / total;
    return row;
  });
}
