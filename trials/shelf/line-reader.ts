import { alcoholDensity, massFractionOf } from '../../engine/bench/alcohol-density.ts';
import { ETHANOL, type Line, type Material, UNNAMED_SOLVENT } from '../../engine/bench/material.ts';
import type { Formula } from '../schema/formula.ts';
import { plain, type Shelf } from './shelf.ts';

type FormulaLine = Formula['lines'][number];

interface LineFault {
  where: string;
  found: string;
  allowed: string;
}

/** Reads lines against the shelf; what it has to make up (a dilution, a spirit) it adds to the materials. */
export class LineReader {
  readonly faults: LineFault[] = [];
  readonly warnings: string[] = [];
  /** Materials whose own density counts. */
  readonly used = new Set<string>();
  readonly #materials: Map<string, Material>;

  readonly #shelf: Shelf;

  constructor(materials: Map<string, Material>, shelf: Shelf) {
    this.#materials = materials;
    this.#shelf = shelf;
  }

  read(line: FormulaLine, index: number): Line {
    const base = this.#baseOf(line, index);
    const material =
      line.strength === 100 || this.#restates(line, base) ? base : this.#dilution(line, base, index);
    if (line.density === undefined) this.#use(base);
    else this.#doubtDensity(line, line.density, base);
    if (line.strength === 100 && line.solvent !== undefined)
      this.#warn(`${line.material}: a solvent without a strength below 100 counts for nothing`);
    const known = this.#shelf.find(line.material);
    return {
      material: material.id,
      name: line.material,
      grams: line.grams,
      density: line.density ?? null,
      pricePerGram: line.pricePerGram ?? known?.pricePerGram ?? null,
    };
  }

  #baseOf(line: FormulaLine, index: number): Material {
    const known = this.#shelf.find(line.material);
    const spirit = line.strength === 100 ? line.percentVol : undefined;
    if (known === undefined) return this.#named(line.material, spirit);
    const material = this.#materials.get(known.id)!;
    if (spirit === undefined) return material;
    if (known.id === ETHANOL) return this.#spirit(spirit, line.material);
    if (known.makeup.kind === 'spirit')
      return this.#otherSpirit(spirit, line.material, known.makeup.percentVol);
    this.faults.push({
      where: `lines[${index}].percentVol`,
      found: `${spirit} % by volume for ${known.name}`,
      allowed: 'a strength by volume for spirits, or beside a strength below 100 and its solvent',
    });
    return material;
  }

  /** A material that the shelf does not hold: a spirit where a strength by volume says so, else only a name. */
  #named(name: string, percentVol: number | undefined): Material {
    if (percentVol !== undefined) return this.#spirit(percentVol, name);
    const strength = /^ethanol(?:-| )(\d+(?:\.\d+)?)(?: % vol)?$/i.exec(name.trim())?.[1];
    if (strength !== undefined && Number(strength) <= 100) {
      this.#warn(`${name} is read as ethanol of ${strength} % by volume`);
      return this.#spirit(Number(strength), name);
    }
    this.#warn(`${name} is not on the shelf: it counts as one substance that holds no ethanol`);
    const id = `named:${name.trim().toLowerCase()}`;
    return this.#add({
      id,
      name,
      cas: null,
      density: null,
      makeup: { kind: 'unknown' },
      volatility: 'middle',
    });
  }

  #otherSpirit(percentVol: number, name: string, shelf: number): Material {
    if (percentVol !== shelf)
      this.#warn(`${name}: ${percentVol} % by volume as the line says, not the ${shelf} % of the shelf`);
    return this.#spirit(percentVol, name);
  }

  #spirit(percentVol: number, name: string): Material {
    const makeup = { kind: 'spirit', percentVol } as const;
    return this.#add({
      id: `spirit:${percentVol}`,
      name,
      cas: null,
      density: null,
      makeup,
      volatility: 'carrier',
    });
  }

  /** The line only says again what the shelf says of it: its strength then counts once. */
  #restates({ material, strength }: FormulaLine, { makeup }: Material): boolean {
    const own =
      makeup.kind === 'solution'
        ? makeup.percent
        : makeup.kind === 'spirit'
          ? 100 * massFractionOf(makeup.percentVol)
          : Number.NaN;
    const same = Math.abs(strength - own) <= 0.005 * own;
    if (same) this.#warn(`${material}: its strength of ${strength} % is that of the shelf and counts once`);
    else if (!Number.isNaN(own))
      this.#warn(
        `${material} holds ${Number(own.toPrecision(4))} % as it stands on the shelf, and the line takes ${strength} % of it: the two multiply`,
      );
    return same;
  }

  #dilution(line: FormulaLine, base: Material, index: number): Material {
    const solvent = this.#solventOf(line, index);
    this.#use(solvent);
    const makeup = { kind: 'solution', of: base.id, percent: line.strength, solvent: solvent.id } as const;
    const { volatility } = base;
    return this.#add({
      id: `line:${index}`,
      name: line.material,
      cas: null,
      density: null,
      makeup,
      volatility,
    });
  }

  #solventOf({ material, strength, solvent, percentVol }: FormulaLine, index: number): Material {
    if (percentVol !== undefined && solvent === undefined)
      this.faults.push({
        where: `lines[${index}].percentVol`,
        found: `${percentVol} % by volume beside a strength of ${strength} % by mass`,
        allowed: 'one of the two, or both with the solvent that the strength by volume is of',
      });
    if (percentVol !== undefined) {
      this.#warn(`${material}: ${percentVol} % by volume is read as the strength of its solvent`);
      return this.#spirit(percentVol, solvent ?? material);
    }
    if (solvent === undefined) {
      this.#warn(
        `${material}: ${strength} % in a solvent that is not named: neither its volume nor its ethanol is known`,
      );
      return this.#materials.get(UNNAMED_SOLVENT)!;
    }
    const known = this.#shelf.find(solvent);
    const itself = this.#shelf.find(material);
    if (plain(solvent) === plain(material) || (known !== undefined && known === itself))
      this.faults.push({
        where: `lines[${index}].solvent`,
        found: `${solvent} as the solvent of ${material}`,
        allowed: 'a solvent other than what is dissolved in it',
      });
    return known === undefined ? this.#named(solvent, undefined) : this.#materials.get(known.id)!;
  }

  /** A density far from any liquid's, or from what is known of this spirit, is more likely a slip than a fact. */
  #doubtDensity({ material, strength }: FormulaLine, density: number, base: Material): void {
    if (density < 0.5 || density > 3)
      this.#warn(`${material}: ${density} g/mL is unlike any liquid of the shelf: is it in another unit?`);
    else if (base.makeup.kind === 'spirit' && strength === 100) {
      const known = alcoholDensity(massFractionOf(base.makeup.percentVol));
      if (Math.abs(density - known) > 0.002 * known)
        this.#warn(
          `${material}: the line says ${density} g/mL, and ${base.makeup.percentVol} % by volume has ${known.toFixed(4)} (OIML R 22), which counts`,
        );
    }
  }

  #use({ id, makeup }: Material): void {
    this.used.add(id);
    if (makeup.kind !== 'solution') return;
    for (const part of [makeup.of, makeup.solvent]) this.#use(this.#materials.get(part)!);
  }

  #add(material: Material): Material {
    const there = this.#materials.get(material.id);
    if (there !== undefined) return there;
    this.#materials.set(material.id, material);
    return material;
  }

  #warn(text: string): void {
    if (!this.warnings.includes(text)) this.warnings.push(text);
  }
}
