import { ETHANOL, type Line, type Material, UNNAMED_SOLVENT, WATER } from '../../engine/bench/material.ts';
import { describeFault, InputFaults } from '../schema/faults.ts';
import type { Formula } from '../schema/formula.ts';
import { LineReader } from './line-reader.ts';
import { type Shelf, starterShelf, volatilityOf } from './shelf.ts';
import type { ShelfMaterial } from './shelf-schema.ts';

export interface ResolvedFormula {
  lines: Line[];
  /** Everything that the lines are made of, by id. */
  materials: ReadonlyMap<string, Material>;
  warnings: string[];
}

/**
 * A formula's lines with what the shelf adds to them. What a line says itself comes first; what neither says stays
 * unknown and is never guessed.
 *
 * @throws InputFaults where a line contradicts itself
 */
export function resolveFormula(formula: Formula, shelf: Shelf = starterShelf()): ResolvedFormula {
  const materials = new Map(shelf.materials.map((one) => [one.id, toMaterial(one)]));
  materials.set(UNNAMED_SOLVENT, unknownMaterial(UNNAMED_SOLVENT, 'a solvent that is not named'));
  const reader = new LineReader(materials, shelf);
  const lines = formula.lines.map((line, index) => reader.read(line, index));
  if (reader.faults.length > 0)
    throw new InputFaults(
      reader.faults.map(({ where, found, allowed }) => describeFault(where, found, allowed)),
    );
  return { lines, materials, warnings: [...reader.warnings, ...unverifiedDensities(reader.used, shelf)] };
}

function toMaterial(one: ShelfMaterial): Material {
  const { id, name, cas, density, makeup } = one;
  return { id, name, cas, density, makeup, volatility: volatilityOf(one) };
}

/** A material of which only the name is known. */
export function unknownMaterial(id: string, name: string): Material {
  return { id, name, cas: null, density: null, makeup: { kind: 'unknown' }, volatility: 'middle' };
}

function unverifiedDensities(used: ReadonlySet<string>, shelf: Shelf): string[] {
  const doubtful = shelf.materials
    .filter(({ id }) => used.has(id) && id !== ETHANOL && id !== WATER)
    .filter(({ density, verifiedFields }) => density !== null && !verifiedFields.includes('density'))
    .map(({ name }) => name);
  return doubtful.length === 0
    ? []
    : [
        `densities that the shelf has not verified: ${doubtful.join('; ')}; a density in the formula goes first`,
      ];
}
