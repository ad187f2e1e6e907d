import type { PairOfMixes, Reading } from '../schema/api.ts';
import type { Context } from './context.ts';
import { readReading } from './readings.ts';
import { notFound } from './refusal.ts';

/** What is looked at here of how the panel worked, as it is stored. */
interface StoredPanel {
  attributes: { id: string; differences: PairOfMixes[] }[];
}

/** Below this a difference of two mixes is told apart, as everywhere. */
const APART = 0.05;

/**
 * A stored result as a page opens with it: of how the panel worked, pairs of mixes are counted and left out (`pairs:
 * {all, apart}`), since they grow with the square of the mixes; those of one attribute are had by `readPairs`.
 */
export function readWithoutPairs(context: Context, trial: string, reading: string): Reading {
  const stored = readReading(context, trial, reading);
  if (stored.kind !== 'read') return stored;
  const result = stored.result as Record<string, unknown>;
  const { withoutKnowing } = result as { withoutKnowing?: Record<string, unknown> };
  return {
    ...stored,
    result: {
      ...result,
      panel: counted(result['panel']),
      ...(withoutKnowing && {
        withoutKnowing: { ...withoutKnowing, panel: counted(withoutKnowing['panel']) },
      }),
    },
  };
}

/** All pairs of mixes of one attribute. Refused where the result holds none of that name. */
export function readPairs(
  context: Context,
  trial: string,
  reading: string,
  attribute: string,
): PairOfMixes[] {
  const { result } = readReading(context, trial, reading);
  const { panel } = (result ?? {}) as { panel?: unknown };
  const found = isPanel(panel) ? panel.attributes.find(({ id }) => id === attribute) : undefined;
  if (found === undefined) throw notFound('this attribute of a reading');
  return found.differences;
}

function counted(panel: unknown): unknown {
  if (!isPanel(panel)) return panel;
  const attributes = panel.attributes.map((one) => {
    const apart = one.differences.filter(({ p }) => p !== null && p < APART).length;
    return { ...one, differences: [], pairs: { all: one.differences.length, apart } };
  });
  return { ...panel, attributes };
}

function isPanel(panel: unknown): panel is StoredPanel {
  return Array.isArray((panel as StoredPanel | null)?.attributes);
}
