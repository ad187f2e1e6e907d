import { naturalOrder } from './natural-order.ts';
import { REFERENCE, type Serving, WARMUP } from './observations.ts';

/**
 * The cups that hold a score on one attribute, with who, what and when as level numbers into sorted names (the
 * reference last among the mixes). A serving without a session belongs to the session named ''.
 */
export interface Cups {
  /** Which servings these are, in their order. */
  rows: Int32Array;
  y: Float64Array;
  mixes: readonly string[];
  mixOf: Int32Array;
  assessors: readonly string[];
  assessorOf: Int32Array;
  sessions: readonly string[];
  sessionOf: Int32Array;
  /** Columns that stand beside the mixes in the fixed part, each about zero over the cups; absent where none do. */
  beside?: BesideColumns;
  /** Assessors may shift their levels from session to session: a random effect of its own. */
  assessorsBySession?: boolean;
}

/** Named columns, n × names, row by row. */
export interface BesideColumns {
  names: readonly string[];
  values: Float64Array;
}

/** Warm-up cups are never analysed. */
export function isAnalysed(serving: Serving): boolean {
  return serving.mix !== WARMUP;
}

/** The scored cups of one attribute (its place in `scores`), leaving out warm-ups and assessors set aside. */
export function cupsOf(
  servings: readonly Serving[],
  attribute: number,
  setAside: ReadonlySet<string> = new Set(),
): Cups {
  const rows: number[] = [];
  servings.forEach((serving, i) => {
    const score = serving.scores[attribute];
    if (isAnalysed(serving) && !setAside.has(serving.assessor) && score != null && Number.isFinite(score))
      rows.push(i);
  });
  const pick = (name: (serving: Serving) => string) => coded(rows.map((i) => name(servings[i]!)));
  const mix = pick((s) => s.mix);
  const assessor = pick((s) => s.assessor);
  const session = pick((s) => s.session ?? '');
  return {
    rows: Int32Array.from(rows),
    y: Float64Array.from(rows, (i) => servings[i]!.scores[attribute]!),
    mixes: mix.names,
    mixOf: mix.levels,
    assessors: assessor.names,
    assessorOf: assessor.levels,
    sessions: session.names,
    sessionOf: session.levels,
  };
}

/** Names in natural order, the reference last. */
export function mixOrder(a: string, b: string): number {
  return Number(a === REFERENCE) - Number(b === REFERENCE) || naturalOrder(a, b);
}

function coded(values: readonly string[]): { names: string[]; levels: Int32Array } {
  const names = [...new Set(values)].sort(mixOrder);
  const place = new Map(names.map((name, i) => [name, i]));
  return { names, levels: Int32Array.from(values, (value) => place.get(value)!) };
}
