/**
 * How one assessor's cups of a trial are cut into sittings: cup after cup, replicate after replicate, the same for
 * every assessor. A replicate (block) holds each mix once.
 */
export interface OrderShape {
  mixes: number;
  blocks: number;
  /** For each cup: its sitting, its place within that sitting (0 = first), whether a cup precedes it there. */
  sitting: number[];
  position: number[];
  follows: boolean[];
  /** For each cup: which part of its block its sitting is; all 0 where blocks are not cut. */
  part: number[];
  sittings: number;
  /** True where a sitting holds fewer cups than there are mixes. */
  cut: boolean;
}

/**
 * Sittings of at most `most` cups. A block that does not fit is cut into parts as equal as can be; where a sitting
 * holds two blocks or more, whole blocks follow each other in it.
 */
export function shapeSittings(mixes: number, blocks: number, most: number): OrderShape {
  const parts = Math.ceil(mixes / Math.min(most, mixes));
  const together = Math.max(1, Math.floor(most / mixes));
  const shape: OrderShape = {
    mixes,
    blocks,
    sitting: [],
    position: [],
    follows: [],
    part: [],
    sittings: parts > 1 ? blocks * parts : Math.ceil(blocks / together),
    cut: parts > 1,
  };
  for (let block = 0; block < blocks; block++)
    for (let k = 0; k < mixes; k++) {
      const part = partOf(k, mixes, parts);
      const sitting = parts > 1 ? block * parts + part : Math.floor(block / together);
      const cup = shape.sitting.length;
      const follows = cup > 0 && shape.sitting[cup - 1] === sitting;
      shape.sitting.push(sitting);
      shape.part.push(part);
      shape.follows.push(follows);
      shape.position.push(follows ? shape.position[cup - 1]! + 1 : 0);
    }
  return shape;
}

/** The first parts take one cup more where the cups do not divide. */
function partOf(k: number, mixes: number, parts: number): number {
  const small = Math.floor(mixes / parts);
  const larger = mixes - small * parts;
  const inLarger = larger * (small + 1);
  return k < inLarger ? Math.floor(k / (small + 1)) : larger + Math.floor((k - inLarger) / small);
}
