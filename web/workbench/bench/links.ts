import { signal } from '@preact/signals';
import type { Answer } from '../server.ts';

type Link = Answer<'drawSitting'>['links'][number];

/**
 * Tasters' links by sitting. They are told once and only their hashes are stored, so they live as long as this page
 * does; a lost one is renewed.
 */
export const links = signal<Readonly<Record<string, readonly Link[]>>>({});

/** Notes links that were just drawn or renewed. */
export function noteLinks({ sitting, links: drawn }: Answer<'drawSitting'>): void {
  const before = links.value[sitting] ?? [];
  const fresh = new Set(drawn.map(({ assessor }) => assessor));
  const others = before.filter(({ assessor }) => !fresh.has(assessor));
  links.value = { ...links.value, [sitting]: [...others, ...drawn] };
}
