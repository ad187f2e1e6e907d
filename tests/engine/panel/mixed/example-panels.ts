import type { MixedProblem, RandomFactor } from '../../../../engine/panel/mixed/types.ts';

/** Uniform numbers in 0..1 (mulberry32), so that a seed fixes a panel. */
export function uniform(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export function normal(draw: () => number): () => number {
  return () => Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
}

export interface PanelShape {
  assessors: number;
  mixes: number;
  replicates: number;
  sessions: number;
  /** Standard deviations of assessor, assessor by mix, session, residual. */
  sd: readonly [number, number, number, number];
  /** Share of cups that were scored. */
  keep?: number;
  seed: number;
}

/** A simulated panel: mix means as fixed part (first mix as base), assessor, cell and session as random factors. */
export function examplePanel(shape: PanelShape): MixedProblem {
  const draw = uniform(shape.seed);
  const gauss = normal(draw);
  const effects = [shape.assessors, shape.assessors * shape.mixes, shape.sessions].map((count, k) =>
    Float64Array.from({ length: count }, () => gauss() * shape.sd[k]!),
  );
  const rows: { mix: number; at: number[]; y: number }[] = [];
  for (let a = 0; a < shape.assessors; a++)
    for (let m = 0; m < shape.mixes; m++)
      for (let r = 0; r < shape.replicates; r++) {
        const at = [a, a * shape.mixes + m, (r + Math.floor(m / 3)) % shape.sessions];
        const noise = gauss() * shape.sd[3];
        if (draw() < (shape.keep ?? 1))
          rows.push({ mix: m, at, y: 50 + 3 * m + noise + at.reduce((s, l, k) => s + effects[k]![l]!, 0) });
      }
  const counts = effects.map((e) => e.length);
  const random = ['assessor', 'cell', 'session'].map(
    (name, k): RandomFactor => ({ name, count: counts[k]!, levels: Int32Array.from(rows, (r) => r.at[k]!) }),
  );
  const fixed = Float64Array.from(
    rows.flatMap((r) => Array.from({ length: shape.mixes }, (_, m) => (m === 0 || m === r.mix ? 1 : 0))),
  );
  const names = Array.from({ length: shape.mixes }, (_, m) => `m${m + 1}`);
  return { y: Float64Array.from(rows, (r) => r.y), fixed, names, random };
}

/** The problem with the rows in another order, given by old indices. */
export function reordered(problem: MixedProblem, order: readonly number[]): MixedProblem {
  const p = problem.names.length;
  return {
    y: Float64Array.from(order, (i) => problem.y[i]!),
    fixed: Float64Array.from(order.flatMap((i) => [...problem.fixed.subarray(i * p, i * p + p)])),
    names: problem.names,
    random: problem.random.map((f) => ({ ...f, levels: Int32Array.from(order, (i) => f.levels[i]!) })),
  };
}

export function shuffled(length: number, draw: () => number): number[] {
  const order = Array.from({ length }, (_, i) => i);
  for (let i = length - 1; i > 0; i--) {
    const j = Math.floor(draw() * (i + 1));
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  return order;
}
