import { EngineError } from '../errors.ts';
import { ETHANOL_DENSITY } from './alcohol-density.ts';
import { explodeLine, type Portion } from './explode.ts';
import { ETHANOL, type Line, type Material, type Materials, UNNAMED_SOLVENT } from './material.ts';
import { type Exploded, type Missing, volumeOf } from './volume.ts';

export interface SubstanceShare {
  substance: string;
  id: string;
  cas: string | null;
  grams: number;
  /** Of the whole by mass, 0 to 1. */
  share: number;
}

export interface Strength {
  grams: number;
  /** At 20 °C; null where a density is missing. */
  millilitres: number | null;
  /** g/mL at 20 °C. */
  density: number | null;
  /** Percent ethanol by volume at 20 °C; null too where a solvent is not named. */
  percentVol: number | null;
  substances: SubstanceShare[];
  /** What a null above is for want of. */
  missing: Missing[];
  warnings: string[];
}

/**
 * What a formula is, by pure substance. Percent by volume is the volume of the ethanol alone (789.24 g/L at 20 °C,
 * OIML R 22) over that of the whole.
 *
 * @throws EngineError where a mass is negative or all are zero, or a material cannot be taken apart
 */
export function strengthOf(lines: readonly Line[], materials: Materials): Strength {
  const exploded = explodeAll(lines, materials);
  const portions = exploded.flatMap((one) => one.portions);
  const grams = lines.reduce((sum, line) => sum + line.grams, 0);
  const { millilitres, missing } = volumeOf(exploded);
  const substances = bySubstance(portions).map(({ substance, grams: mass }) => ({
    substance: substance.name,
    id: substance.id,
    cas: substance.cas,
    grams: mass,
    share: mass / grams,
  }));
  return {
    grams,
    millilitres,
    density: millilitres === null ? null : grams / millilitres,
    percentVol: percentVolOf(substances, millilitres),
    substances,
    missing,
    warnings: missing.map(({ material, because }) => `no volume: ${material}: ${because}`),
  };
}

/** Every line taken apart. @throws EngineError where nothing has been weighed */
export function explodeAll(lines: readonly Line[], materials: Materials): Exploded[] {
  const exploded = lines.map((line) => ({ line, portions: explodeLine(line, materials) }));
  if (!(lines.reduce((sum, { grams }) => sum + grams, 0) > 0))
    throw new EngineError('bad-argument', 'lines', 0, 'at least one mass above 0');
  return exploded;
}

/** Grams of each substance, the most first. */
export function bySubstance(portions: readonly Portion[]): { substance: Material; grams: number }[] {
  const sums = new Map<string, { substance: Material; grams: number }>();
  for (const { substance, grams } of portions) {
    if (grams === 0) continue;
    const sum = sums.get(substance.id) ?? { substance, grams: 0 };
    sums.set(substance.id, { substance, grams: sum.grams + grams });
  }
  return [...sums.values()].sort((a, b) => b.grams - a.grams);
}

function percentVolOf(substances: readonly SubstanceShare[], millilitres: number | null): number | null {
  if (substances.some(({ id }) => id === UNNAMED_SOLVENT)) return null;
  const ethanol = substances.find(({ id }) => id === ETHANOL)?.grams ?? 0;
  if (ethanol === 0) return 0;
  return millilitres === null ? null : (100 * ethanol) / ETHANOL_DENSITY / millilitres;
}
