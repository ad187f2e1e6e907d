import type { BlendSpace, ShareBound } from '../../engine/region/blend-space.ts';
import type { NamedStream } from '../../trials/demo/named-stream.ts';
import { halfSpacesOf, hitAndRun } from './hit-and-run.ts';

/** A drawn space with a point well inside and points spread evenly over it. */
export interface DrawnSpace {
  space: BlendSpace;
  /** The share around which each component's limits were drawn; small for the potent ones. */
  typical: number[];
  points: { shares: number[]; settings: number[] }[];
}

/** Share of worlds with one or two linear bounds, and with a dose. */
const WITH_BOUNDS = 0.4;
const WITH_DOSE = 0.4;
const DOSE = { id: 'dose', low: 0.17, high: 0.33, acts: 'each' } as const;

/**
 * 3 to 6 components whose typical shares lie up to a hundredfold apart, limits around them, some linear bounds that
 * cut off a tenth to a third of the region, and in some worlds a dose.
 */
export function drawSpace(stream: NamedStream): DrawnSpace {
  const q = 3 + Math.floor(4 * stream.uniform());
  const typical = typicalShares(q, stream);
  const components = typical.map((share, i) => ({
    id: `c${i + 1}`,
    low: share * (0.25 + 0.35 * stream.uniform()),
    high: Math.min(0.95, share * (1.5 + stream.uniform())),
  }));
  // shares must sum to one, so the commonest component needs room on both sides
  const bounds = stream.uniform() < WITH_BOUNDS ? drawBounds(components, typical, stream) : [];
  const settings = stream.uniform() < WITH_DOSE ? [DOSE] : [];
  const space: BlendSpace = { components, bounds, settings };
  const points = hitAndRun(halfSpacesOf(space), typical, 1500, stream).map((shares) => ({
    shares,
    settings: settings.map(({ low, high }) => low + (high - low) * stream.uniform()),
  }));
  return { space, typical, points };
}

/** Log-uniform over two decades, none below 0.02 before scaling to a sum of one. */
function typicalShares(q: number, stream: NamedStream): number[] {
  const raw = Array.from({ length: q }, () => 10 ** (-2 * stream.uniform()));
  const total = raw.reduce((a, b) => a + b, 0);
  const lifted = raw.map((r) => Math.max(0.02, r / total));
  const sum = lifted.reduce((a, b) => a + b, 0);
  return lifted.map((share) => share / sum);
}

function drawBounds(
  components: BlendSpace['components'],
  typical: readonly number[],
  stream: NamedStream,
): ShareBound[] {
  const points = hitAndRun(halfSpacesOf({ components, bounds: [] }), typical, 400, stream);
  const count = stream.uniform() < 0.5 ? 1 : 2;
  return Array.from({ length: count }, () => drawBound(components, { typical, points }, stream));
}

/** Two components with coefficients 1 and 0.2 to 1.2; the limit keeps the typical point inside. */
function drawBound(
  components: BlendSpace['components'],
  known: { typical: readonly number[]; points: readonly number[][] },
  stream: NamedStream,
): ShareBound {
  const first = Math.floor(components.length * stream.uniform());
  const second = (first + 1 + Math.floor((components.length - 1) * stream.uniform())) % components.length;
  const weight = 0.2 + stream.uniform();
  const value = (x: readonly number[]) => x[first]! + weight * x[second]!;
  const sorted = known.points.map(value).sort((a, b) => a - b);
  const upper = stream.uniform() < 0.5;
  const cut = 0.1 + 0.23 * stream.uniform();
  const limit = sorted[Math.floor(sorted.length * (upper ? 1 - cut : cut))]!;
  const own = value(known.typical);
  const of = { [components[first]!.id]: 1, [components[second]!.id]: weight };
  return upper ? { of, most: Math.max(limit, own * 1.02) } : { of, least: Math.min(limit, own * 0.98) };
}
