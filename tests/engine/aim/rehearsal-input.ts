import type { Difficulty } from '../../../engine/aim/rehearsal/invented-truth.ts';
import type { RehearsalInput } from '../../../engine/aim/rehearsal/rehearse.ts';
import type { Attribute } from '../../../engine/panel/observations.ts';

/** Eight mixes of three components: corners, middles of edges, the middle and a fresh weighing of it. */
const LATTICE = [
  [0.7, 0.15, 0.15],
  [0.15, 0.7, 0.15],
  [0.15, 0.15, 0.7],
  [0.425, 0.425, 0.15],
  [0.425, 0.15, 0.425],
  [0.15, 0.425, 0.425],
  [0.34, 0.33, 0.33],
  [0.5, 0.25, 0.25],
];

/** A small rehearsal of three components and two attributes, three new mixes a round. */
export function rehearsalInput(by: {
  difficulty?: Difficulty;
  cup?: number;
  truths?: number;
  rounds?: number;
  assessors?: number;
  mixes?: number;
}): RehearsalInput {
  const attributes = ['bitter', 'fresh'].map(
    (id, k): Attribute => ({
      ...{ id, scale: [0, 100], tolerance: 8, weight: 1 },
      target: { kind: 'value', value: 45 + 10 * k },
    }),
  );
  return {
    space: {
      components: ['a', 'b', 'c'].map((id) => ({ id, low: 0.15, high: 0.7 })),
      ...{ bounds: [], settings: [] },
    },
    batch: { grams: 4, readability: 0.01, tolerance: 0.02 },
    attributes,
    first: LATTICE.slice(0, by.mixes ?? 8).map((shares) => ({ shares, settings: [] })),
    assessors: by.assessors ?? 3,
    ...{ replicates: 1, cupsPerSitting: 4, rounds: by.rounds ?? 0, each: 3, seed: 1 },
    noise: attributes.map(() => ({ cup: by.cup ?? 12, assessorByMix: 0 })),
    difficulty: by.difficulty ?? 'middling',
    truths: by.truths ?? 10,
  };
}
