import { describe, expect, it } from 'vitest';
import { effectsChart } from '../../../web/charts/effects-chart.ts';
import { LIGHT } from '../../../web/charts/theme.ts';

const LONG = 'Bitterness that stays at the back of the tongue, first sip';
const attributes = Array.from({ length: 12 }, (_, k) => ({ id: `q${k}`, name: `${LONG} ${k % 2} of two` }));
const cells = attributes.map(({ id }, k) => ({
  ...{ component: 'peel', attribute: id, tells: true },
  ...{ change: k, low: k - 1, high: k + 1 },
}));

/** Columns of each line of the chart, by the attributes that stand in them. */
function columnsAt(width: number): string[][] {
  const components = [{ id: 'peel', name: 'Peel' }];
  const spec = effectsChart({ title: 'Tilt', components, attributes, cells }, { width, theme: LIGHT });
  type Part = { data: { values: { attribute: string; column: string }[] } };
  const parts = ('vconcat' in spec ? spec.vconcat : [spec]) as unknown as Part[];
  return parts.map(({ data: { values } }) => {
    // Vega-Lite makes one column of what has one heading.
    expect(new Set(values.map(({ column }) => column)).size).toBe(values.length);
    return values.map(({ attribute }) => attribute);
  });
}

describe('the tilts of many questions', () => {
  it('all have a column of their own on a phone, in as many lines as it takes', () => {
    const lines = columnsAt(358);
    expect(lines.length).toBeGreaterThan(1);
    expect(lines.flat()).toEqual(attributes.map(({ id }) => id));
  });

  it('stand in one line where there is room', () => {
    expect(columnsAt(960)).toEqual([attributes.map(({ id }) => id)]);
  });
});
