import { strengthOf } from '../../engine/bench/strength.ts';
import type { Brief } from '../schema/brief.ts';
import type { Card } from '../schema/card.ts';
import type { Formula } from '../schema/formula.ts';
import { resolveFormula } from '../shelf/resolve-formula.ts';
import type { Shelf } from '../shelf/shelf.ts';

interface Filled {
  formula: Formula;
  concentrate: Card['concentrate'];
}

/**
 * A mix made up to its volume with the carrier of the brief: as many grams of it as bring the whole to that volume at
 * 20 °C, contraction counted; found by halving, since volume only grows. Where a density is missing the carrier's
 * mass is left out, and a reason says why.
 */
export function fillUp({ concentrate }: Brief, mix: Formula, shelf: Shelf): Filled {
  const known = (formula: Formula) => {
    const { lines, materials } = resolveFormula(formula, shelf);
    return strengthOf(lines, materials);
  };
  if (concentrate === undefined) {
    const { grams, density, percentVol } = known(mix);
    const because = 'the brief does not say what the mix is made up with';
    return {
      formula: mix,
      concentrate: { carrier: null, fillMillilitres: null, grams, density, percentVol, because },
    };
  }
  const { carrier, fillMillilitres, percentVol: stated } = concentrate;
  const withCarrier = (grams: number): Formula => ({
    ...mix,
    lines: [...mix.lines, { material: carrier, grams, strength: 100 }],
  });
  const said = { carrier, fillMillilitres };
  const alone = known(withCarrier(0.001));
  if (alone.millilitres === null || alone.millilitres > fillMillilitres) {
    const because =
      alone.millilitres === null
        ? `about ${stated} % as the brief states; ${alone.missing.map((one) => `${one.material}: ${one.because}`).join('; ')}`
        : `the mix alone is larger than ${fillMillilitres} mL`;
    const unknown = { grams: null, density: null, percentVol: null, because };
    return { formula: mix, concentrate: { ...said, ...unknown } };
  }
  let [low, high] = [0, 3 * fillMillilitres];
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (known(withCarrier(middle)).millilitres! < fillMillilitres) low = middle;
    else high = middle;
  }
  const formula = withCarrier(Number(high.toPrecision(6)));
  const { grams, density, percentVol } = known(formula);
  const far = percentVol !== null && Math.abs(percentVol - stated) > 2;
  const because = far ? `the brief states ${stated} % by volume` : '';
  return { formula, concentrate: { ...said, grams, density, percentVol, because } };
}
