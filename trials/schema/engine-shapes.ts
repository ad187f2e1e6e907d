import type { Attribute, Target } from '../../engine/panel/observations.ts';
import type { BlendSpace } from '../../engine/region/blend-space.ts';
import type { Brief } from './brief.ts';
import type { ScaleForm } from './scale-form.ts';

/**
 * What may be mixed, as the engine takes it. Every bound names every component, so that an id which is also the
 * name of something inherited (`constructor`) is never looked up past the bound itself.
 */
export function toBlendSpace(brief: Brief): BlendSpace {
  return {
    components: brief.components.map(({ id, low, high }) => ({ id, low, high })),
    bounds: brief.bounds.map(({ of, least, most }) => ({
      of: byId(brief.components, ({ id }) => (Object.hasOwn(of, id) ? of[id]! : 0)),
      least,
      most,
    })),
    settings: brief.settings.map(({ id, low, high, acts }) => ({ id, low, high, acts })),
  };
}

/** The scales of the ballot with their aims; a tolerance left out is 8 % of the scale's length. */
export function toAttributes(brief: Brief): Attribute[] {
  return brief.attributes.map(({ id, scale, target, tolerance, weight, form }) => ({
    id,
    scale,
    target: toTarget(target),
    tolerance: tolerance ?? 0.08 * (scale[1] - scale[0]),
    weight,
    answered: form && ANSWERED[form],
  }));
}

const ANSWERED: Partial<Record<ScaleForm, Attribute['answered']>> = {
  categories: 'steps',
  liking: 'liking',
  'just-about-right': 'right',
};

/** An object keyed by id that owns each of its entries, whatever the ids spell. */
export function byId<T extends { id: string }, V>(
  list: readonly T[],
  value: (entry: T, index: number) => V,
): Record<string, V> {
  return Object.fromEntries(list.map((entry, index) => [entry.id, value(entry, index)]));
}

function toTarget(target: Brief['attributes'][number]['target']): Target | null {
  if (target === undefined) return null;
  if (typeof target === 'number') return { kind: 'value', value: target };
  if (typeof target === 'string') return { kind: target };
  return { kind: 'range', low: target[0], high: target[1] };
}
