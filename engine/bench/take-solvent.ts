import { type Materials, WATER } from './material.ts';
import type { Pouring } from './pouring.ts';

export interface TakenSolvent {
  pourings: Pouring[];
  /** Name of what the stock is to be made up with. */
  solvent: string;
  warnings: string[];
}

/**
 * Takes the solvent that a stock brings off the formula's own line of that solvent, so that the formula stays what
 * it is. The solvent is that of the line's own dilution where the formula holds it, else the largest carrier other
 * than water.
 * Where no line holds enough, nothing is taken and a warning says what the stock adds.
 */
export function takeSolvent(
  pourings: readonly Pouring[],
  pouring: Pouring,
  grams: number,
  materials: Materials,
): TakenSolvent {
  const own = ownSolvent(pouring, materials);
  const carriers = pourings
    .filter((one) => one.line !== pouring.line && one.volatility === 'carrier' && one.strength === 100)
    .sort((a, b) => b.grams - a.grams);
  const carrier =
    carriers.find(({ line }) => line.material === own) ??
    carriers.find(({ line }) => line.material !== WATER);
  const name = carrier?.line.name ?? (own === null ? DEFAULT_SOLVENT : materials.get(own)!.name);
  if (carrier !== undefined && carrier.grams >= grams)
    return {
      pourings: pourings.map((one) => (one === carrier ? { ...one, grams: one.grams - grams } : one)),
      solvent: name,
      warnings: [],
    };
  const holds = carrier === undefined ? 'none of it' : `only ${carrier.grams.toPrecision(3)} g of it`;
  const warning = `the stock of ${pouring.line.name} brings ${grams.toPrecision(3)} g of ${name}, and the formula holds ${holds}: weigh a larger batch, or the formula becomes weaker`;
  return { pourings: [...pourings], solvent: name, warnings: [warning] };
}

const DEFAULT_SOLVENT = 'ethanol-96';

function ownSolvent({ line }: Pouring, materials: Materials): string | null {
  const makeup = materials.get(line.material)?.makeup;
  return makeup?.kind === 'solution' ? makeup.solvent : null;
}
