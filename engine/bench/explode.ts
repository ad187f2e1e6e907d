import { EngineError } from '../errors.ts';
import { massFractionOf } from './alcohol-density.ts';
import { ETHANOL, type Line, type Material, type Materials, WATER } from './material.ts';

/** So much of one substance, as one line brings it. */
export interface Portion {
  substance: Material;
  grams: number;
  /** It was added as such, rather than inside an extract. */
  asSuch: boolean;
}

/**
 * A line taken apart to pure substances: through solutions, their solvents and spirits, however deep. An oil or an
 * extract stays one substance. Masses add up to that of the line.
 *
 * @throws EngineError `bad-argument` where a material is missing, a solution holds itself, or a percentage or mass
 * is out of range
 */
export function explodeLine(line: Line, materials: Materials): Portion[] {
  if (!(line.grams >= 0 && Number.isFinite(line.grams)))
    throw new EngineError('bad-argument', line.name, line.grams, 'a mass in grams, 0 or more');
  return takeApart({ id: line.material, grams: line.grams, asSuch: true }, materials, []);
}

interface Lump {
  id: string;
  grams: number;
  asSuch: boolean;
}

function takeApart(lump: Lump, materials: Materials, inside: readonly string[]): Portion[] {
  const { id, grams, asSuch } = lump;
  if (inside.includes(id)) {
    const round = [...inside.slice(inside.indexOf(id)), id].join(' in ');
    throw new EngineError('bad-argument', id, round, 'a solution that does not hold itself');
  }
  const material = findIn(materials, id);
  const { makeup } = material;
  if (makeup.kind === 'spirit') return spirit(grams, makeup.percentVol, materials);
  if (makeup.kind !== 'solution') return [{ substance: material, grams, asSuch }];
  const { of, percent, solvent, natural = false } = makeup;
  if (!(percent > 0 && percent <= 100))
    throw new EngineError('bad-argument', `strength of ${material.name}`, percent, 'above 0 and up to 100 %');
  const dissolved = (grams * percent) / 100;
  const within = [...inside, id];
  return [
    ...takeApart({ id: of, grams: dissolved, asSuch: asSuch && !natural }, materials, within),
    ...takeApart({ id: solvent, grams: grams - dissolved, asSuch }, materials, within),
  ];
}

function spirit(grams: number, percentVol: number, materials: Materials): Portion[] {
  const ethanol = grams * massFractionOf(percentVol);
  return [
    { substance: findIn(materials, ETHANOL), grams: ethanol, asSuch: true },
    { substance: findIn(materials, WATER), grams: grams - ethanol, asSuch: true },
  ];
}

function findIn(materials: Materials, id: string): Material {
  const material = materials.get(id);
  if (material === undefined)
    throw new EngineError(
      'bad-argument',
      'material',
      id,
      'a material that the shelf or the formula describes',
    );
  return material;
}
