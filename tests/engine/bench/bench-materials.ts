import type { Line, Makeup, Material } from '../../../engine/bench/material.ts';
import { ETHANOL, UNNAMED_SOLVENT, WATER } from '../../../engine/bench/material.ts';

interface Described {
  name?: string;
  cas?: string;
  density?: number | null;
  makeup?: Makeup;
  volatility?: Material['volatility'];
}

/** A material of these tests. */
export function material(id: string, described: Described = {}): Material {
  const {
    name = id,
    cas = null,
    density = null,
    makeup = { kind: 'pure' },
    volatility = 'middle',
  } = described;
  return { id, name, cas, density, makeup, volatility };
}

/** Ethanol, water, spirit of 96 %, and what a test adds. */
export function shelfOf(...more: readonly Material[]): Map<string, Material> {
  const always = [
    material(ETHANOL, { density: 0.78924, volatility: 'carrier' }),
    material(WATER, { density: 0.9982, volatility: 'carrier' }),
    material('ethanol-96', { makeup: { kind: 'spirit', percentVol: 96 }, volatility: 'carrier' }),
    material(UNNAMED_SOLVENT, { makeup: { kind: 'unknown' } }),
  ];
  return new Map([...always, ...more].map((one) => [one.id, one]));
}

/** A line of so many grams. */
export function line(id: string, grams: number, more: Partial<Line> = {}): Line {
  return { material: id, name: id, grams, density: null, pricePerGram: null, ...more };
}
