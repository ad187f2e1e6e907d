import { EngineError } from '../errors.ts';

/**
 * Density of sucrose in water at 20 °C, g/mL, at every ten percent by mass (degrees Brix). Table from memory; to
 * 50 % it agrees within 0.0001 with the CRC Handbook's as quoted in public.
 */
const EVERY_TEN: readonly number[] = [0.9982, 1.0381, 1.081, 1.127, 1.1765, 1.2296, 1.2865, 1.3472];
const MOST = 10 * (EVERY_TEN.length - 1);

/**
 * Density of a sucrose solution at 20 °C: the cubic through the four nearest points of the table, drawn through
 * 1/ρ, which bends least.
 *
 * @param brix percent sucrose by mass, 0 to 70
 * @returns g/mL
 * @throws EngineError outside 0 to 70
 */
export function sugarDensity(brix: number): number {
  if (!(brix >= 0 && brix <= MOST))
    throw new EngineError('bad-argument', 'brix', brix, `a percentage by mass from 0 to ${MOST}`);
  const first = Math.min(EVERY_TEN.length - 4, Math.max(0, Math.floor(brix / 10) - 1));
  const nodes = [0, 1, 2, 3].map((step) => first + step);
  const volume = nodes.reduce((sum, node) => sum + weightOf(node, nodes, brix / 10) / EVERY_TEN[node]!, 0);
  return 1 / volume;
}

/** Lagrange's weight of one node. */
function weightOf(node: number, nodes: readonly number[], at: number): number {
  return nodes.reduce(
    (product, other) => (other === node ? product : (product * (at - other)) / (node - other)),
    1,
  );
}

/**
 * Degrees Brix of a drink made of syrup and water by volume, at 20 °C; mass adds up, volume does not.
 *
 * @param syrupBrix percent sucrose by mass of the syrup
 * @throws EngineError where a volume is negative or there is nothing to drink
 */
export function dilutedBrix(syrupBrix: number, syrupMillilitres: number, waterMillilitres: number): number {
  if (!(syrupMillilitres >= 0 && waterMillilitres >= 0 && syrupMillilitres + waterMillilitres > 0))
    throw new EngineError(
      'bad-argument',
      'millilitres',
      [syrupMillilitres, waterMillilitres],
      'volumes of 0 or more, not both 0',
    );
  const syrup = syrupMillilitres * sugarDensity(syrupBrix);
  return (syrup * syrupBrix) / (syrup + waterMillilitres * sugarDensity(0));
}
