import type { InputKind } from './process-inputs.ts';

/** One shape of surface that is considered. */
export interface Structure {
  kind: InputKind;
  /** Reach of the local part, in region widths. */
  length: number;
  /** Parts of the variance that are plane, products and local. */
  parts: readonly [plane: number, products: number, local: number];
  /** Variance between sessions, in squared points of 100. */
  session: number;
}

const KINDS: readonly InputKind[] = ['shares', 'logarithms'];
const LENGTHS = [1, 2];
const PRODUCTS = [0.03, 0.15, 0.5];
const LOCALS = [0.03, 0.2];
const SESSIONS = [0, 9];

/** Standard deviations of a surface over the region, in points of 100, with a log-normal prior about 12. */
export const AMPLITUDES = [6, 9, 13, 19, 28];
const TYPICAL = 12;
const SPREAD = 0.5;

/** Log prior density of an amplitude, up to a constant. */
export function amplitudePrior(amplitude: number): number {
  return -0.5 * (Math.log(amplitude / TYPICAL) / SPREAD) ** 2;
}

/**
 * Every shape considered, all equally likely before tasting. Sessions may differ only where there are two or more.
 */
export function structures(sessions: number): Structure[] {
  const between = sessions > 1 ? SESSIONS : [0];
  return KINDS.flatMap((kind) =>
    LENGTHS.flatMap((length) =>
      PRODUCTS.flatMap((products) =>
        LOCALS.flatMap((local) =>
          between.map((session): Structure => {
            return { kind, length, parts: [1 - products - local, products, local], session };
          }),
        ),
      ),
    ),
  );
}
