import type { Hooks } from '../../engine/hooks.ts';
import type { LinearSolver } from '../../engine/numeric/linear-solver.ts';
import type { Brief } from '../schema/brief.ts';
import { byId, toBlendSpace } from '../schema/engine-shapes.ts';
import { VERSION } from './version.ts';

export interface Tools {
  solver: LinearSolver;
  hooks?: Hooks | undefined;
  /** Threads that a search may take; default 1. The result does not depend on it. */
  workers?: number | undefined;
}

/** What may be mixed, and how it is weighed, as the engine takes it. */
export function spaceOf(brief: Brief) {
  const titles = [...brief.components, ...brief.settings, ...brief.attributes];
  return {
    space: toBlendSpace(brief),
    names: byId(titles, ({ name }) => name),
    batch: brief.batch,
    stocks: byId(
      brief.components.filter(({ stocks }) => stocks !== undefined && stocks.length > 0),
      ({ stocks }) => [...new Set(stocks)],
    ),
  };
}

/** A result with what makes it reproducible, the warnings of the input before those of the engine. */
export function documentOf<T extends { warnings: readonly string[] }>(
  { warnings = [] }: { warnings?: readonly string[] | undefined },
  result: T,
  seed?: number,
) {
  return {
    ...result,
    warnings: [...warnings, ...result.warnings],
    ...(seed === undefined ? {} : { seed }),
    version: VERSION,
  };
}
