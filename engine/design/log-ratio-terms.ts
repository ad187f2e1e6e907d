import type { BlendSpace } from '../region/blend-space.ts';
import type { LogFactor, Term } from './terms.ts';

/** Shares below this part of the region's width count as so much: a logarithm needs something. */
const LEAST_PART = 0.02;

/**
 * The terms of the log contrast model of Aitchison and Bacon-Shone (1984, Biometrika 71, 323-330): a constant, log
 * ratios of each varying component to the last one, and (degree 2) their squares and products; each setting crossed
 * with the constant and the log ratios, or alone where it acts on the whole. Which component is the divisor changes
 * names, not the model.
 *
 * @param widths lowest and highest share of each component in the region
 * @param still settings to be left out; those that do not vary are left out in any case
 */
export function logRatioTerms(
  space: BlendSpace,
  widths: { low: readonly number[]; high: readonly number[] },
  degree: 1 | 2,
  still: readonly boolean[] = [],
): Term[] {
  const { settings } = space;
  const factors = logFactors(space, widths);
  const moving = [...settings.keys()].filter((s) => !still[s] && settings[s]!.high > settings[s]!.low);
  const name = ({ component, over }: LogFactor) =>
    `log(${space.components[component]!.id}/${space.components[over]!.id})`;
  const term = (of: readonly number[], logs: readonly LogFactor[]): Term => ({
    name: [...of.map((s) => settings[s]!.id), ...logs.map(name)].join('*') || 'constant',
    ...{ settings: of, components: [], difference: false, logs },
  });
  const first = [term([], []), ...factors.map((one) => term([], [one]))];
  const crossed = moving.flatMap((s) => [
    term([s], []),
    ...(settings[s]!.acts === 'each' ? factors.map((one) => term([s], [one])) : []),
  ]);
  if (degree === 1) return [...first, ...crossed];
  const second = pairsWithSelf(factors).map((pair) => term([], pair));
  return [...first, ...second, ...crossed, ...pairsWithSelf(moving).map((pair) => term(pair, []))];
}

/** One factor for each varying component but the last. */
function logFactors(
  space: BlendSpace,
  { low, high }: { low: readonly number[]; high: readonly number[] },
): LogFactor[] {
  const varying = [...space.components.keys()].filter((i) => high[i]! - low[i]! > 1e-12);
  const least = (i: number) => LEAST_PART * (high[i]! - low[i]!);
  const over = varying.at(-1);
  if (over === undefined) return [];
  return varying
    .slice(0, -1)
    .map((component) => ({ component, least: least(component), over, overLeast: least(over) }));
}

function pairsWithSelf<T>(list: readonly T[]): [T, T][] {
  return list.flatMap((a, i) => list.slice(i).map((b): [T, T] => [a, b]));
}
