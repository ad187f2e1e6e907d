import type { Brief } from '../schema/brief.ts';
import { type Column, decimalsOf, fixed, short } from './text-table.ts';

interface Made {
  grams: Readonly<Record<string, number>>;
  settings: Readonly<Record<string, number>>;
}

/** Columns for what a mix is made of: grams of each component, then settings with their units. */
export function mixColumns(brief: Brief): Column[] {
  return [
    ...brief.components.map(({ id }) => ({ title: `${id} (g)`, numeric: true })),
    ...brief.settings.map(({ id, unit }) => ({
      title: unit === undefined ? id : `${id} (${unit})`,
      numeric: true,
    })),
  ];
}

/** The cells for `mixColumns`. */
export function mixRow({ grams, settings }: Made, brief: Brief): string[] {
  const decimals = decimalsOf(brief.batch.readability);
  return [
    ...brief.components.map(({ id }) => fixed(grams[id], decimals)),
    ...brief.settings.map(({ id }) => short(settings[id])),
  ];
}
