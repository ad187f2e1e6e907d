import { formFor, type WeighingForm, type WeighingGrid } from '../region/weighing-grid.ts';

/** Masses counted in units of a weighing grid: pours in whole steps of the balance, fresh ones in their own form. */
export interface WholeMasses {
  poured: number[];
  fresh: number[];
  /** The form in which each fresh component is weighed. */
  forms: WeighingForm[];
}

/**
 * Rounds masses to what the balance shows, so that they sum to the batch and no bottle gives more than it holds.
 * What is missing or too much after rounding goes where the rounding was worst, in the coarsest unit that fits.
 *
 * @param exact grams from each bottle and of each fresh component
 * @param left grams in each bottle
 * @returns null where that cannot be done
 */
export function toWholeSteps(
  exact: { poured: readonly number[]; fresh: readonly number[] },
  left: readonly number[],
  grid: WeighingGrid,
): WholeMasses | null {
  const perGram = grid.perStep / grid.batch.readability;
  const forms = exact.fresh.map((grams, j) => formFor(grid, j, grams * perGram));
  const units = [...exact.poured.map(() => grid.perStep), ...forms.map(({ unit }) => unit)];
  const wanted = [...exact.poured, ...exact.fresh].map((grams) => grams * perGram);
  const most = wanted.map((_, i) =>
    i < left.length ? Math.floor(left[i]! / grid.batch.readability + 1e-9) * grid.perStep : grid.total,
  );
  const masses = wanted.map((w, i) => Math.min(most[i]!, Math.round(w / units[i]!) * units[i]!));
  if (!settle(masses, { wanted, units, most, total: grid.total })) return null;
  return { poured: masses.slice(0, left.length), fresh: masses.slice(left.length), forms };
}

interface Limits {
  wanted: readonly number[];
  units: readonly number[];
  most: readonly number[];
  total: number;
}

/** Changes masses until they sum to the total; false where nothing can give way. */
function settle(masses: number[], { wanted, units, most, total }: Limits): boolean {
  for (;;) {
    const missing = total - masses.reduce((a, b) => a + b, 0);
    if (missing === 0) return true;
    const sign = Math.sign(missing);
    const open = masses.flatMap((mass, i) => {
      const after = mass + sign * units[i]!;
      return wanted[i]! > 0 && units[i]! <= Math.abs(missing) && after >= 0 && after <= most[i]! ? [i] : [];
    });
    if (open.length === 0) return false;
    const coarsest = Math.max(...open.map((i) => units[i]!));
    const short = (i: number) => sign * (wanted[i]! - masses[i]!);
    const pick = open.filter((i) => units[i]! === coarsest).reduce((a, b) => (short(b) > short(a) ? b : a));
    masses[pick]! += sign * units[pick]!;
  }
}
