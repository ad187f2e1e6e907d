import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { mersenne } from 'pure-rand/generator/mersenne';

/** Chance draws of the invented tasters: every stream is fixed by a seed and a name, never by the order of calls. */
export interface NamedStream {
  /** Uniform on [0, 1). */
  uniform(): number;
  /** Normal with mean 0 and the given standard deviation. */
  normal(deviation: number): number;
}

/** The stream that belongs to `seed` and the parts of a name. The same seed and name always give the same draws. */
export function namedStream(seed: number, ...name: readonly (string | number)[]): NamedStream {
  const generator = mersenne(hash(`${seed}\u0000${name.join('\u0000')}`));
  const uniform = () => uniformFloat64(generator);
  return { uniform, normal: (deviation) => deviation * standardNormal(uniform) };
}

/** The list in random order (Fisher and Yates). */
export function shuffled<T>(list: readonly T[], stream: NamedStream): T[] {
  const out = [...list];
  for (let i = out.length - 1; i > 0; i--) {
    const j = Math.floor((i + 1) * stream.uniform());
    [out[i], out[j]] = [out[j]!, out[i]!];
  }
  return out;
}

/** Fowler-Noll-Vo 1a in 32 bits with a final mix (published constants); good enough to keep streams apart. */
function hash(text: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) | 0;
}

/** Box and Muller (1958). */
function standardNormal(uniform: () => number): number {
  const radius = Math.sqrt(-2 * Math.log(1 - uniform()));
  return radius * Math.cos(2 * Math.PI * uniform());
}
