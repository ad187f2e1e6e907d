import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import type { Attribute, Serving } from '../../../engine/panel/observations.ts';

export interface Table {
  columns: string[];
  rows: (string | number)[][];
}

export function readReference<T>(path: string): T {
  return JSON.parse(readFileSync(new URL(`../../reference/${path}`, import.meta.url), 'utf8')) as T;
}

/** An attribute on a 0 to 100 scale that is not aimed at. */
export function attribute(id: string, more: Partial<Attribute> = {}): Attribute {
  return { id, scale: [0, 100], target: null, tolerance: 8, weight: 1, ...more };
}

/** Servings of a stored table; `session` names the column that stands for it, null for none. */
export function servingsOf(
  { columns, rows }: Table,
  attributes: readonly string[],
  { mix = 'mix', session = null as string | null } = {},
): Serving[] {
  const at = (name: string) => columns.indexOf(name);
  return rows.map((row) => ({
    mix: mix === 'mix' ? String(row[at('mix')]) : `v${row[at(mix)]}`,
    assessor: `P${row[at('assessor')]}`,
    session: session === null ? null : String(row[at(session)]),
    replicate: String(row[at('replicate')]),
    position: Number(row[at('position')]),
    scores: attributes.map((name) => Number(row[at(name)])),
  }));
}

/** A small complete panel: score(assessor, mix, replicate) for every cup, positions running through the mixes. */
export function servingsFrom(
  size: { assessors: number; mixes: number; replicates: number },
  score: (assessor: number, mix: number, replicate: number) => (number | null)[],
): Serving[] {
  const out: Serving[] = [];
  for (let r = 0; r < size.replicates; r++)
    for (let a = 0; a < size.assessors; a++)
      for (let m = 0; m < size.mixes; m++)
        out.push({
          mix: `m${m + 1}`,
          assessor: `P${a + 1}`,
          session: null,
          replicate: String(r + 1),
          position: ((m + a) % size.mixes) + 1,
          scores: score(a, m, r),
        });
  return out;
}

/** No number anywhere in a result may be NaN or infinite. */
export function expectNoNaN(value: unknown, path = 'result'): void {
  if (typeof value === 'number') expect(Number.isFinite(value), path).toBe(true);
  else if (value && typeof value === 'object')
    for (const [key, inner] of Object.entries(value)) expectNoNaN(inner, `${path}.${key}`);
}
