import { alcoholDensity } from './alcohol-density.ts';
import type { Portion } from './explode.ts';
import { ETHANOL, type Line, WATER } from './material.ts';

/** Why a volume cannot be told. */
export interface Missing {
  material: string;
  because: string;
}

export interface Volume {
  /** Millilitres at 20 °C; null where a density is missing. */
  millilitres: number | null;
  missing: Missing[];
}

/** A line with what it brings. */
export interface Exploded {
  line: Line;
  portions: readonly Portion[];
}

/**
 * Volume at 20 °C: all ethanol and water as one mixture by OIML R 22, everything else added at its own density.
 * Where a line states the density of what is weighed, the part of it that is neither ethanol nor water takes the
 * room that this leaves.
 */
export function volumeOf(exploded: readonly Exploded[]): Volume {
  const rest = exploded.map(restVolume);
  const missing = onceEach(rest.flatMap((part) => part.missing));
  const spirit = spiritVolume(exploded.flatMap(({ portions }) => portions));
  const known = rest.reduce((sum, { millilitres }) => sum + (millilitres ?? 0), spirit);
  return { millilitres: missing.length > 0 ? null : known, missing };
}

/** The same want named once, however many lines have it. */
export function onceEach(missing: readonly Missing[]): Missing[] {
  const named = new Map(missing.map((one) => [`${one.material}\n${one.because}`, one]));
  return [...named.values()];
}

/** Millilitres of the ethanol and water among these portions, mixed, at 20 °C. */
function spiritVolume(portions: readonly Portion[]): number {
  const ethanol = gramsOf(portions, ETHANOL);
  const grams = ethanol + gramsOf(portions, WATER);
  return grams > 0 ? grams / alcoholDensity(ethanol / grams) : 0;
}

function gramsOf(portions: readonly Portion[], id: string): number {
  return portions.reduce((sum, { substance, grams }) => (substance.id === id ? sum + grams : sum), 0);
}

function restVolume({ line, portions }: Exploded): Volume {
  const others = portions.filter(({ substance, grams }) => grams > 0 && !isSpirit(substance.id));
  if (others.length === 0) return { millilitres: 0, missing: [] };
  if (line.density !== null) {
    const room = line.grams / line.density - spiritVolume(portions);
    if (room > 0) return { millilitres: room, missing: [] };
    const because = `at ${line.density} g/mL it would be smaller than its own ethanol and water: weigh a known volume`;
    return { millilitres: null, missing: [{ material: line.name, because }] };
  }
  const missing = others.flatMap(({ substance }) =>
    substance.density === null ? [{ material: substance.name, because: NO_DENSITY }] : [],
  );
  const millilitres = others.reduce((sum, { substance, grams }) => sum + grams / (substance.density ?? 1), 0);
  return { millilitres: missing.length > 0 ? null : millilitres, missing };
}

const NO_DENSITY = 'its density at 20 °C is not known: give the line a density';

function isSpirit(id: string): boolean {
  return id === ETHANOL || id === WATER;
}
