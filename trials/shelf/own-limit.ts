import type { Limit } from '../../engine/bench/limits.ts';
import type { OwnLimit } from '../schema/shelf-shapes.ts';

/** A limit of the maker's own as it is judged: beside the starter list's, wherever the drink is sold, never verified. */
export function asLimit(own: OwnLimit): Limit & { category: string } {
  return { ...own, verified: false, own: true, category: '' };
}
