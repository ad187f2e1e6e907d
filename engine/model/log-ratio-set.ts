import type { BlendSpace } from '../region/blend-space.ts';
import type { RegionWidths } from './fit-types.ts';
import type { TermSet } from './term-set.ts';

/** Shares below this part of the region's width count as so much: a logarithm needs something. */
const LEAST_PART = 0.02;

/** One term: a product of coded settings and of log ratios (by place among the varying components). */
interface LogTerm {
  name: string;
  settings: readonly number[];
  logs: readonly number[];
}

/**
 * The log contrast model of Aitchison and Bacon-Shone (1984, Biometrika 71, 323-330): a constant, log ratios of each
 * varying component to the last one, and (degree 2) their squares and products; each setting crossed with the
 * constant and the log ratios, or alone where it acts on the whole. It suits materials that act by proportion:
 * twice as much does the same from wherever one starts. Which component is the divisor changes names, not the model.
 * Shares below 2 % of the region's width in that component count as that much.
 *
 * @param degree 1 or 2
 * @param still settings that no tasted mix varied
 */
export function logRatioSet(
  space: BlendSpace,
  region: RegionWidths,
  degree: 1 | 2,
  still: readonly boolean[] = [],
): TermSet {
  const varying = [...space.components.keys()].filter((i) => region.high[i]! - region.low[i]! > 1e-12);
  const least = varying.map((i) => LEAST_PART * (region.high[i]! - region.low[i]!));
  const moving = [...space.settings.keys()].filter(
    (s) => !still[s] && space.settings[s]!.high > space.settings[s]!.low,
  );
  const terms = logTerms(space, { varying, moving, degree });
  return {
    model: 'log-ratio',
    names: terms.map(({ name }) => name),
    aliased: space.settings.filter((_, s) => !moving.includes(s)).map(({ id }) => id),
    pure: terms.map(({ settings, logs }) => settings.length + logs.length === 0),
    level: terms.flatMap(({ logs }, t) => (logs.length > 0 ? [terms.map((_, j) => Number(j === t))] : [])),
    evaluate: (shares, coded, out) => {
      const logs = varying.map((i, v) => Math.log(Math.max(shares[i]!, least[v]!)));
      const last = logs.at(-1) ?? 0;
      terms.forEach((term, t) => {
        let value = 1;
        for (const s of term.settings) value *= coded[s]!;
        for (const v of term.logs) value *= logs[v]! - last;
        out[t] = value;
      });
    },
  };
}

function logTerms(
  { components, settings }: BlendSpace,
  { varying, moving, degree }: { varying: readonly number[]; moving: readonly number[]; degree: 1 | 2 },
): LogTerm[] {
  const last = components[varying.at(-1) ?? 0]!.id;
  const ratio = (v: number) => `log(${components[varying[v]!]!.id}/${last})`;
  const ratios = varying.slice(0, -1).map((_, v) => v);
  const pairs = (list: readonly number[]) =>
    list.flatMap((a, i) => list.slice(i).map((b) => [a, b] as const));
  const crossed = (s: number): LogTerm[] => [
    { name: settings[s]!.id, settings: [s], logs: [] },
    ...(settings[s]!.acts === 'each'
      ? ratios.map((v) => ({ name: `${settings[s]!.id}*${ratio(v)}`, settings: [s], logs: [v] }))
      : []),
  ];
  const first: LogTerm[] = [
    { name: 'constant', settings: [], logs: [] },
    ...ratios.map((v) => ({ name: ratio(v), settings: [], logs: [v] })),
  ];
  const second: LogTerm[] = pairs(ratios).map(([a, b]) => ({
    name: `${ratio(a)}*${ratio(b)}`,
    settings: [],
    logs: [a, b],
  }));
  const settingPairs: LogTerm[] = pairs(moving).map(([a, b]) => ({
    name: `${settings[a]!.id}*${settings[b]!.id}`,
    settings: [a, b],
    logs: [],
  }));
  const own = moving.flatMap(crossed);
  return degree === 1 ? [...first, ...own] : [...first, ...second, ...own, ...settingPairs];
}
