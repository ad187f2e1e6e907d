import type { Brief } from '../../../trials/schema/brief.ts';
import type { Aim, AimedAttribute } from '../../charts/aims.ts';

type BriefAttribute = Brief['attributes'][number];

/** Where each attribute should end up; the reference's place is known once the panel has tasted it. */
export function aimsOf(brief: Brief, referenceMean: (attribute: string) => number | null): AimedAttribute[] {
  return brief.attributes.map((attribute) => ({
    id: attribute.id,
    name: attribute.name,
    scale: attribute.scale,
    aim: aimOf(attribute, referenceMean(attribute.id)),
    weight: attribute.weight,
  }));
}

function aimOf({ target, tolerance, scale }: BriefAttribute, reference: number | null): Aim {
  const within = tolerance ?? 0.08 * (scale[1] - scale[0]);
  if (target === undefined) return null;
  if (target === 'most' || target === 'least') return { kind: 'toward', end: target };
  if (target === 'reference')
    return reference === null ? null : { kind: 'band', from: reference, to: reference, tolerance: within };
  const [from, to] = Array.isArray(target) ? target : [target, target];
  return { kind: 'band', from, to, tolerance: within };
}

/** The aim of an attribute as the brief has it, in words. */
export function briefAim({ target, tolerance, scale }: BriefAttribute): string {
  const within = Number((tolerance ?? 0.08 * (scale[1] - scale[0])).toPrecision(3));
  if (target === undefined) return 'only looked at';
  if (target === 'most') return 'as high as can be';
  if (target === 'least') return 'as low as can be';
  if (target === 'reference') return `as the reference, within ${within}`;
  return `${Array.isArray(target) ? target.join(' to ') : target}, within ${within}`;
}
