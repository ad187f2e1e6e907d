import type { Attribute, Target } from '../panel/observations.ts';

/** What targets that are no numbers are compared with, in one draw. */
export interface Yardstick {
  /** The reference's average on this attribute. */
  reference: number | null;
  /** The least and the most of this attribute over the region. */
  least: number;
  most: number;
}

/**
 * How far a score lies off its target, with sign, in scale units: score - value, or to the nearer end of a range (0
 * inside), or to the reference's score, or to the most or least that the region holds.
 */
export function missOf(target: Target, score: number, yardstick: Yardstick): number {
  switch (target.kind) {
    case 'value':
      return score - target.value;
    case 'range':
      return score - Math.min(target.high, Math.max(target.low, score));
    case 'most':
      return Math.min(0, score - yardstick.most);
    case 'least':
      return Math.max(0, score - yardstick.least);
    case 'reference':
      return yardstick.reference === null ? 0 : score - yardstick.reference;
  }
}

/** Length of an attribute's scale; scores without a scale are taken as they are, in points of 100. */
export function scaleLength(attribute: Attribute): number {
  return attribute.scale ? attribute.scale[1] - attribute.scale[0] : 100;
}

/** Whether some target is where the reference is scored. */
export function comparesWithReference(attributes: readonly Attribute[]): boolean {
  return attributes.some(({ target }) => target?.kind === 'reference');
}

/** The attributes that are aimed at, with their places on the ballot. */
export function aimedAt(
  attributes: readonly Attribute[],
): { attribute: Attribute; place: number; target: Target }[] {
  return attributes.flatMap((attribute, place) =>
    attribute.target === null ? [] : [{ attribute, place, target: attribute.target }],
  );
}
