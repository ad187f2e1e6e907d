import { codeSetting } from '../../engine/region/blend-space.ts';
import type { NamedStream } from '../../trials/demo/named-stream.ts';
import type { Truth } from './psychophysical-truth.ts';
import type { DrawnSpace } from './world-space.ts';

interface Surface {
  linear: number[];
  pairs: number[];
  triples: number[];
  dose: number[];
  doseSquare: number;
  bump: { at: number[]; dose: number; height: number; width: number };
}

/**
 * A world of special-cubic surfaces, each with an added bump: a polynomial of degree three in the shares scaled by
 * their ranges, crossed with the dose where there is one, plus a Gaussian hill or hollow of 6 to 14 points that no
 * polynomial of the tool can follow. Each surface is stretched to span a drawn part of 0..100 over the region.
 */
export function specialCubicTruth(drawn: DrawnSpace, attributes: number, stream: NamedStream): Truth {
  const scaled = scaler(drawn);
  const surfaces = Array.from({ length: attributes }, () => {
    const surface = drawSurface(drawn, scaled, stream);
    const raw = drawn.points.map((p) => polynomial(surface, scaled(p.shares, p.settings)));
    const [least, most] = [Math.min(...raw), Math.max(...raw)];
    const low = 8 + 27 * stream.uniform();
    const high = 60 + 32 * stream.uniform();
    const stretch = (high - low) / (most - least);
    return { surface, shift: low - least * stretch, stretch };
  });
  return (shares, settings) => {
    const at = scaled(shares, settings);
    return surfaces.map(({ surface, shift, stretch }) =>
      clip(shift + stretch * polynomial(surface, at) + bumpOf(surface, at)),
    );
  };
}

interface Scaled {
  p: number[];
  z: number;
}

/** Shares scaled by the range they really take, and the coded dose (0 where there is none). */
function scaler({
  space,
  points,
}: DrawnSpace): (shares: readonly number[], settings: readonly number[]) => Scaled {
  const low = space.components.map((_, i) => Math.min(...points.map((p) => p.shares[i]!)));
  const high = space.components.map((_, i) => Math.max(...points.map((p) => p.shares[i]!)));
  const [dose] = space.settings;
  return (shares, settings) => ({
    p: shares.map((share, i) => (share - low[i]!) / (high[i]! - low[i]!)),
    z: dose ? codeSetting(dose, settings[0]!) : 0,
  });
}

function drawSurface(drawn: DrawnSpace, scaled: ReturnType<typeof scaler>, stream: NamedStream): Surface {
  const q = drawn.typical.length;
  const draw = (count: number, deviation: number) =>
    Array.from({ length: count }, () => stream.normal(deviation));
  const middle = drawn.points[Math.floor(drawn.points.length * stream.uniform())]!;
  const at = scaled(middle.shares, middle.settings);
  return {
    linear: draw(q, 20),
    pairs: draw((q * (q - 1)) / 2, 18),
    triples: draw((q * (q - 1) * (q - 2)) / 6, 18),
    dose: draw(q, 6),
    doseSquare: stream.normal(3),
    bump: {
      at: at.p,
      dose: at.z,
      height: (stream.uniform() < 0.5 ? -1 : 1) * (6 + 8 * stream.uniform()),
      width: 0.25 + 0.2 * stream.uniform(),
    },
  };
}

function polynomial(s: Surface, { p, z }: Scaled): number {
  let value = s.doseSquare * z * z + 6 * z;
  let pair = 0;
  let triple = 0;
  for (let i = 0; i < p.length; i++) {
    value += (s.linear[i]! + s.dose[i]! * z) * p[i]!;
    for (let j = i + 1; j < p.length; j++) {
      value += s.pairs[pair++]! * p[i]! * p[j]!;
      for (let k = j + 1; k < p.length; k++) value += s.triples[triple++]! * p[i]! * p[j]! * p[k]!;
    }
  }
  return value;
}

function bumpOf({ bump }: Surface, { p, z }: Scaled): number {
  const squares = p.reduce((sum, x, i) => sum + (x - bump.at[i]!) ** 2, ((z - bump.dose) / 2) ** 2);
  return bump.height * Math.exp((-0.5 * squares) / bump.width ** 2);
}

function clip(score: number): number {
  return Math.min(100, Math.max(0, score));
}
