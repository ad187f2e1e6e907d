/** The two substances whose mixtures do not add up by volume; their materials must bear these ids. */
export const ETHANOL = 'ethanol';
export const WATER = 'water';
/** What a dilution is made up with where nobody says: neither its density nor its ethanol is known. */
export const UNNAMED_SOLVENT = 'unnamed-solvent';

/** A substance inside an oil or an extract that limits know. */
export interface Constituent {
  substance: string;
  cas: string | null;
  /** The most that such a material holds, percent by mass; limits are judged at it. */
  mostPercent: number;
}

/**
 * What a material is made of.
 *
 * - `pure`: one substance; `mayCarry` says what traces natural grades can bring.
 * - `complex`: an oil or extract, counted as a substance of its own, with the constituents that are known;
 *   `complete` where those are all that a limit could ask for.
 * - `spirit`: ethanol and water at a strength by volume, 20 °C.
 * - `solution`: `percent` by mass of one material in another; `natural` where the dissolved substance comes with an
 *   extract instead of being added as such.
 * - `unknown`: nothing is known about it but its name.
 */
export type Makeup =
  | { kind: 'pure'; mayCarry?: string | undefined }
  | { kind: 'complex'; constituents: readonly Constituent[]; complete: boolean }
  | { kind: 'spirit'; percentVol: number }
  | { kind: 'solution'; of: string; percent: number; solvent: string; natural?: boolean | undefined }
  | { kind: 'unknown' };

/** How soon it leaves an open vessel; top notes are weighed last. */
export type Volatility = 'carrier' | 'low' | 'middle' | 'high';

export interface Material {
  id: string;
  name: string;
  cas: string | null;
  /** g/mL at 20 °C; null where nobody knows. */
  density: number | null;
  makeup: Makeup;
  volatility: Volatility;
}

export type Materials = ReadonlyMap<string, Material>;

/** One line of a formula: so many grams of a material. */
export interface Line {
  /** Id of its material. */
  material: string;
  /** The name it bears in the formula. */
  name: string;
  grams: number;
  /** g/mL at 20 °C of what is weighed, where the line says so itself. */
  density: number | null;
  pricePerGram: number | null;
}
