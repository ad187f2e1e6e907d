import type { BlendSpace } from './blend-space.ts';

/** One side of one bound of a brief, as coefficients·shares ≥ at. */
export interface Limit {
  kind: 'low' | 'high' | 'least' | 'most';
  /** Index into the space's components (`low`, `high`) or bounds (`least`, `most`). */
  index: number;
  coefficients: readonly number[];
  at: number;
  /** True where it only says that a share lies within 0..1: nobody can give there. */
  natural: boolean;
  /** Where it stands: `components[2].high`, `bounds[0].least`. */
  path: string;
}

/** Display names by component id; an id without one is shown as it is. */
export type Names = Readonly<Record<string, string>>;

/** All limits of a space: low and high of each component, then each given side of each bound. */
export function limitsOf(space: BlendSpace): Limit[] {
  return [
    ...space.components.flatMap((_, i) => componentLimits(space, i)),
    ...space.bounds.flatMap((_, b) => boundLimits(space, b)),
  ];
}

function componentLimits(space: BlendSpace, index: number): Limit[] {
  const { low, high } = space.components[index]!;
  const unit = space.components.map((_, i) => (i === index ? 1 : 0));
  const path = `components[${index}]`;
  return [
    {
      kind: 'low',
      index,
      coefficients: unit,
      at: Math.max(0, low),
      natural: low <= 0,
      path: `${path}.low`,
    },
    {
      kind: 'high',
      index,
      coefficients: unit.map((u) => -u),
      at: -Math.min(1, high),
      natural: high >= 1,
      path: `${path}.high`,
    },
  ];
}

function boundLimits(space: BlendSpace, index: number): Limit[] {
  const { least, most } = space.bounds[index]!;
  const row = boundRow(space, index);
  const limits: Limit[] = [];
  const path = `bounds[${index}]`;
  if (least !== undefined)
    limits.push({
      kind: 'least',
      index,
      coefficients: row,
      at: least,
      natural: false,
      path: `${path}.least`,
    });
  if (most !== undefined)
    limits.push({
      kind: 'most',
      index,
      coefficients: row.map((c) => -c),
      at: -most,
      natural: false,
      path: `${path}.most`,
    });
  return limits;
}

/** A bound's coefficients in the order of the components. */
export function boundRow(space: BlendSpace, index: number): number[] {
  const { of } = space.bounds[index]!;
  return space.components.map(({ id }) => (Object.hasOwn(of, id) ? of[id]! : 0));
}

/** `Lime oil at most 0.3`, `Peel + 0.2 × Pink pepper at least 0.1`. */
export function sayLimit(space: BlendSpace, limit: Limit, names: Names = {}): string {
  const upper = limit.kind === 'high' || limit.kind === 'most';
  const what =
    limit.kind === 'low' || limit.kind === 'high'
      ? nameOf(space, limit.index, names)
      : sayRow(space, boundRow(space, limit.index), names);
  return `${what} ${upper ? 'at most' : 'at least'} ${sayNumber(upper ? -limit.at : limit.at)}`;
}

function sayRow(space: BlendSpace, row: readonly number[], names: Names): string {
  const parts: string[] = [];
  row.forEach((c, i) => {
    if (c === 0) return;
    const size = Math.abs(c) === 1 ? '' : `${sayNumber(Math.abs(c))} × `;
    const sign = parts.length === 0 ? (c < 0 ? '-' : '') : c < 0 ? ' - ' : ' + ';
    parts.push(`${sign}${size}${nameOf(space, i, names)}`);
  });
  return parts.join('') || 'nothing';
}

export function nameOf(space: BlendSpace, component: number, names: Names = {}): string {
  const { id } = space.components[component]!;
  return Object.hasOwn(names, id) ? names[id]! : id;
}

/** A share or coefficient as people read it: six significant digits, no trailing zeros. */
export function sayNumber(value: number): string {
  return String(Number(value.toPrecision(6)));
}

/** `a`, `a and b`, `a, b and c`. */
export function sayList(parts: readonly string[]): string {
  if (parts.length <= 1) return parts.join('');
  return `${parts.slice(0, -1).join(', ')} and ${parts[parts.length - 1]}`;
}
