import { studentQuantile } from '../../engine/numeric/student.ts';
import type { PairOfMixes, Reading } from '../schema/api.ts';
import type { Context } from './context.ts';
import { readReading } from './readings.ts';
import { notFound } from './refusal.ts';

/** What is looked at here of how the panel worked, as it is stored. */
interface StoredPanel {
  attributes: { id: string; means: StoredMean[]; differences: PairOfMixes[] }[];
}

interface StoredMean {
  mean: number;
  standardError: number | null;
  denDf: number | null;
}

/** Below this a difference of two mixes is told apart, as everywhere. */
const APART = 0.05;

/**
 * A stored result as a page opens with it: of how the panel worked, pairs of mixes are counted and left out (`pairs:
 * {all, apart}`), since they grow with the square of the mixes; those of one attribute are had by `readPairs`. Each mean
 * carries its 95 % interval, so that a page needs no distributions.
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
    const means = one.means.map((row) => ({ ...row, interval: intervalOf(row) }));
    return { ...one, means, differences: [], pairs: { all: one.differences.length, apart } };
  });
  return { ...panel, attributes };
}

/** By Student's t; null where the error or its degrees of freedom are not known. */
function intervalOf({ mean, standardError, denDf }: StoredMean): [number, number] | null {
  if (standardError === null || denDf === null) return null;
  const half = studentQuantile(0.975, denDf) * standardError;
  return [mean - half, mean + half];
}

function isPanel(panel: unknown): panel is StoredPanel {
  return Array.isArray((panel as StoredPanel | null)?.attributes);
}
