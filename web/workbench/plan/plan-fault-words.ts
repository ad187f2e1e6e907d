import type { Fault } from '../../../trials/schema/api.ts';
import type { Brief } from '../../../trials/schema/brief.ts';

/** Published sets of points, as the form offers them. */
export const POINTS = [
  ['', 'none'],
  ['lattice', 'each alone, and halves of each two'],
  ['centroid', 'equal parts of every group'],
  ['axial', 'each alone, the middle, half-way'],
] as const;

const FIELDS: Record<string, string> = {
  mixes: 'How many mixes?',
  replicated: 'Of these weighed twice',
  model: 'Model',
  points: 'Published points to begin with',
  perBottle: 'Mixes poured from each bottle',
  pinned: 'Mixes held where they are',
  forbidden: 'Mixes that are not to be made',
  thrift: 'What to spare',
};

/** What a refused plan says, in the words of its form: `atMost.peel` is the field “At most in all” of that component. */
export function planFaultWords({ components }: Brief, { where, found, allowed, message }: Fault): string {
  const [, field = '', of] = /^(\w+)(?:[.[](.*?)\]?)?$/.exec(where) ?? [];
  if (allowed === undefined) return message;
  if (field === 'atMost') {
    const name = components.find(({ id }) => id === of)?.name ?? of;
    return `At most in all of ${name}: ${found} g will not do; ${allowed}.`;
  }
  const place = FIELDS[field];
  if (place === undefined) return message;
  if (of !== undefined) return `${place}: it takes ${allowed}.`;
  const chosen = POINTS.find(([id]) => field === 'points' && id === found)?.[1];
  return `${place}: ${chosen ?? found} will not do; it takes ${allowed}.`;
}
