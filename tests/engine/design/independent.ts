import type { PlanInput, PlanResult } from '../../../engine/design/plan-types.ts';
import type { BlendSpace } from '../../../engine/region/blend-space.ts';

type TermFunction = (shares: readonly number[], coded: readonly number[]) => number;

/** A term of the plan read from its name alone, as the command line states names. */
export function termByName(space: BlendSpace, name: string): TermFunction {
  const component = (id: string) => space.components.findIndex((one) => one.id === id);
  const difference = /^(\w+)\*(\w+)\*\(\1-\2\)$/.exec(name);
  if (difference !== null) {
    const [a, b] = [component(difference[1]!), component(difference[2]!)];
    return (shares) => shares[a]! * shares[b]! * (shares[a]! - shares[b]!);
  }
  if (name === 'constant') return () => 1;
  const factors = name.split('*').map((id): TermFunction => {
    const log = /^log\((\w+)\/(\w+)\)$/.exec(id);
    if (log !== null) {
      const [a, b] = [component(log[1]!), component(log[2]!)];
      return (shares) => Math.log(shares[a]! / shares[b]!);
    }
    const setting = space.settings.findIndex((one) => one.id === id);
    const at = component(id);
    return setting >= 0 ? (_, coded) => coded[setting]! : (shares) => shares[at]!;
  });
  return (shares, coded) => factors.reduce((product, factor) => product * factor(shares, coded), 1);
}

/** X'X of the planned ratios (and of what is weighed already) plus the stated prior. */
export function informationOf(plan: PlanResult, input: PlanInput): number[][] {
  const { space, already = [] } = input;
  const rows = [
    ...plan.mixes.map(({ ratios, settings }) => ({
      shares: space.components.map(({ id }) => ratios[id]!),
      settings: space.settings.map(({ id }) => settings[id]!),
    })),
    ...already,
  ];
  const sum = plan.terms.map((_, i) =>
    plan.terms.map((_, j) => (i === j ? (plan.prior?.precision[i] ?? 0) : 0)),
  );
  const terms = termsOf(plan, space);
  for (const { shares, settings } of rows) {
    const f = terms(shares, codesOf(space, settings));
    for (let i = 0; i < f.length; i++) for (let j = 0; j < f.length; j++) sum[i]![j]! += f[i]! * f[j]!;
  }
  return sum;
}

export function codesOf(space: BlendSpace, settings: readonly number[]): number[] {
  return space.settings.map(({ low, high }, s) => (2 * settings[s]! - low - high) / (high - low));
}

/** All terms of a plan at a blend and coded settings. */
export function termsOf(plan: PlanResult, space: BlendSpace) {
  const functions = plan.terms.map((name) => termByName(space, name));
  return (shares: readonly number[], coded: readonly number[]) => functions.map((f) => f(shares, coded));
}

/** Inverse and logarithm of the determinant by Gauss and Jordan with pivoting. */
export function invert(matrix: readonly (readonly number[])[]): { inverse: number[][]; logDet: number } {
  const n = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  let logDet = 0;
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(rows[r]![c]!) > Math.abs(rows[pivot]![c]!)) pivot = r;
    [rows[c], rows[pivot]] = [rows[pivot]!, rows[c]!];
    const value = rows[c]![c]!;
    logDet += Math.log(Math.abs(value));
    rows[c] = rows[c]!.map((v) => v / value);
    for (let r = 0; r < n; r++) {
      const factor = rows[r]![c]!;
      if (r !== c && factor !== 0) rows[r] = rows[r]!.map((v, k) => v - factor * rows[c]![k]!);
    }
  }
  return { inverse: rows.map((row) => row.slice(n)), logDet };
}

/** f' M f. */
export function form(f: readonly number[], matrix: readonly (readonly number[])[]): number {
  let sum = 0;
  for (let i = 0; i < f.length; i++) {
    const row = matrix[i]!;
    let along = 0;
    for (let j = 0; j < f.length; j++) along += row[j]! * f[j]!;
    sum += f[i]! * along;
  }
  return sum;
}

/** A blend uniform over the allowed region, by drawing from the simplex over the box and throwing away. */
export function rejectionSampler(space: BlendSpace, uniform: () => number): () => number[] {
  const { components, bounds } = space;
  const room = 1 - components.reduce((sum, { low }) => sum + low, 0);
  const allowed = (shares: number[]) =>
    components.every(({ high }, i) => shares[i]! <= high) &&
    bounds.every(({ of, least, most }) => {
      const value = components.reduce((sum, { id }, i) => sum + (of[id] ?? 0) * shares[i]!, 0);
      return value >= (least ?? Number.NEGATIVE_INFINITY) && value <= (most ?? Number.POSITIVE_INFINITY);
    });
  return () => {
    for (;;) {
      const parts = components.map(() => -Math.log(1 - uniform()));
      const total = parts.reduce((a, b) => a + b, 0);
      const shares = components.map(({ low }, i) => low + (room * parts[i]!) / total);
      if (allowed(shares)) return shares;
    }
  };
}
