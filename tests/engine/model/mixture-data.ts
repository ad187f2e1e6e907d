import type { FitInput, RegionWidths } from '../../../engine/model/fit-types.ts';
import type { Serving, WeighedMix } from '../../../engine/panel/observations.ts';
import type { BlendSpace, SettingRange } from '../../../engine/region/blend-space.ts';
import { attribute, readReference, type Table } from '../panel/panel-data.ts';

export function spaceOf(q: number, settings: SettingRange[] = []): BlendSpace {
  return {
    components: Array.from({ length: q }, (_, i) => ({ id: 'abcdefghijkl'[i]!, low: 0, high: 1 })),
    bounds: [],
    settings,
  };
}

/** The whole simplex. */
export function wholeRegion(q: number): RegionWidths {
  return {
    centroid: new Array<number>(q).fill(1 / q),
    low: new Array<number>(q).fill(0),
    high: new Array<number>(q).fill(1),
  };
}

export function mixOf(mix: string, shares: readonly number[], more: Partial<WeighedMix> = {}): WeighedMix {
  return { mix, blend: mix, shares, settings: [], ...more };
}

export function cup(
  mix: string,
  assessor: string,
  score: number | null,
  more: Partial<Serving> = {},
): Serving {
  return { mix, assessor, session: null, replicate: null, position: null, scores: [score], ...more };
}

/** A published lattice with replicates, scored by one person: one mix a distinct ratio. */
export function lattice(file: string): Pick<FitInput, 'mixes' | 'servings'> & { published: Published } {
  const data = readReference<Published>(`model/${file}.json`);
  const names = new Map<string, string>();
  for (const { x } of data.runs) if (!names.has(x.join())) names.set(x.join(), `m${names.size + 1}`);
  return {
    published: data,
    mixes: [...names].map(([key, mix]) => mixOf(mix, key.split(',').map(Number))),
    servings: data.runs.map(({ x, y }, i) => cup(names.get(x.join())!, 'P1', y, { replicate: String(i) })),
  };
}

export interface Published {
  runs: { x: number[]; y: number }[];
  recomputed_quadratic: Record<string, unknown> & {
    coefficients: number[];
    standard_errors: number[];
    df_error: number;
    R2_centered: number;
  };
}

export function latticeInput(file: string, model: FitInput['model']): FitInput {
  const { mixes, servings } = lattice(file);
  return {
    space: spaceOf(3),
    region: wholeRegion(3),
    mixes,
    servings,
    attributes: [attribute('y', { scale: null })],
    model,
  };
}

/** Ten blends of three compounds, six assessors twice (invented). */
export const loop = readReference<Table & { ratios_as_weighed: number[][] }>('model/flavour-loop.json');
export const LOOP_ATTRIBUTES = ['citrus', 'floral', 'green', 'cooked'];
export const LOOP_REGION: RegionWidths = {
  centroid: [0.4, 0.3, 0.3],
  low: [0.2, 0.1, 0.1],
  high: [0.8, 0.7, 0.7],
};

export function loopInput(
  model: FitInput['model'],
  { keep = (i: number): boolean => i >= 0, reference = -1, ids = LOOP_ATTRIBUTES } = {},
): FitInput {
  const at = (name: string) => loop.columns.indexOf(name);
  const name = (variant: number) => (variant === reference ? 'reference' : `v${variant}`);
  return {
    space: spaceOf(3),
    region: LOOP_REGION,
    mixes: loop.ratios_as_weighed.flatMap((shares, i) => {
      const total = shares.reduce((sum, v) => sum + v, 0);
      const even = shares.map((v) => v / total);
      return i + 1 === reference ? [] : [mixOf(name(i + 1), even)];
    }),
    servings: loop.rows
      .filter((_, i) => keep(i))
      .map((row) => ({
        mix: name(Number(row[at('variant')])),
        assessor: `P${row[at('assessor')]}`,
        session: String(row[at('replicate')]),
        replicate: '1',
        position: Number(row[at('position')]),
        scores: ids.map((id) => Number(row[at(id)])),
      })),
    attributes: ids.map((id) => attribute(id)),
    model,
  };
}
