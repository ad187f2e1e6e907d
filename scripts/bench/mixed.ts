import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createRandom } from '../../engine/numeric/random.ts';
import { allPairs } from '../../engine/panel/mixed/all-pairs.ts';
import { fitPrepared } from '../../engine/panel/mixed/fit.ts';
import { prepareMixed } from '../../engine/panel/mixed/prepare.ts';
import type { MixedFit, RandomFactor } from '../../engine/panel/mixed/types.ts';

interface Panel {
  name: string;
  assessors: number;
  mixes: number;
  attributes: number;
  replicates: number;
  /** Share of cups that were scored. */
  keep: number;
}

const PANELS: Panel[] = [
  { name: 'trained panel', assessors: 12, mixes: 15, attributes: 10, replicates: 3, keep: 1 },
  {
    name: 'trained panel, a tenth missing',
    assessors: 12,
    mixes: 15,
    attributes: 10,
    replicates: 3,
    keep: 0.9,
  },
  { name: 'tasters', assessors: 120, mixes: 12, attributes: 30, replicates: 1, keep: 1 },
  { name: 'tasters twice', assessors: 120, mixes: 12, attributes: 30, replicates: 2, keep: 1 },
  {
    name: 'tasters twice, a tenth missing',
    assessors: 120,
    mixes: 12,
    attributes: 30,
    replicates: 2,
    keep: 0.9,
  },
  {
    name: 'twice as many tasters, a tenth missing',
    assessors: 240,
    mixes: 12,
    attributes: 30,
    replicates: 2,
    keep: 0.9,
  },
];

/**
 * Times restricted likelihood fits of whole panels (mix fixed; assessor, session and, with replicates, assessor by
 * mix random): the shared design once and one fit an attribute, best of three runs, beside lme4 on the same scores
 * where Rscript can be run. Fits must agree in log restricted likelihood to 1e-4, else the bench fails.
 */
export function benchMixed(print: (line: string) => void): void {
  print('mixed models: milliseconds a fit (design shared), with all means and Tukey pairs, and lme4 alone');
  for (const panel of PANELS) {
    const data = simulate(panel);
    const runs = [0, 1, 2].map(() => timeOnce(data));
    const best = runs.reduce((a, b) => (b.fit < a.fit ? b : a));
    const other = timeLme4(data, best.fits);
    print(
      `${panel.name.padEnd(40)} rows ${String(data.rows).padStart(5)}  fit ${best.fit.toFixed(2).padStart(7)}` +
        `  with tests ${best.tests.toFixed(2).padStart(7)}  lme4 ${other ?? 'not run here'}`,
    );
  }
}

function simulate({ assessors, mixes, attributes, replicates, keep }: Panel) {
  const random = createRandom(7, 'mixed models');
  const cups: { assessor: number; mix: number; session: number }[] = [];
  for (let a = 0; a < assessors; a++)
    for (let m = 0; m < mixes; m++)
      for (let r = 0; r < replicates; r++)
        if (random.uniform() < keep)
          cups.push({ assessor: a, mix: m, session: (r + (m % 2)) % Math.max(2, replicates) });
  const factors: Record<string, number[]> = {
    mix: cups.map((c) => c.mix),
    assessor: cups.map((c) => c.assessor),
    session: cups.map((c) => c.session),
  };
  if (replicates > 1) factors.cell = cups.map((c) => c.assessor * mixes + c.mix);
  const scores = Array.from({ length: attributes }, () => {
    const sd: Record<string, number> = { mix: 6, assessor: 8, session: 3, cell: 4 };
    const drawn = Object.entries(factors).map(([name, levels]) => {
      const effects = Array.from({ length: Math.max(...levels) + 1 }, () => sd[name]! * random.normal());
      return levels.map((l) => effects[l]!);
    });
    return Float64Array.from(
      cups,
      (_, i) => 50 + 8 * random.normal() + drawn.reduce((sum, e) => sum + e[i]!, 0),
    );
  });
  return { factors, scores, mixes, rows: cups.length };
}
type Data = ReturnType<typeof simulate>;

function timeOnce({ factors, scores, mixes }: Data) {
  const names = Array.from({ length: mixes }, (_, m) => `m${m + 1}`);
  const fixed = Float64Array.from(factors.mix!.flatMap((m) => names.map((_, j) => (j === m ? 1 : 0))));
  const random = Object.entries(factors)
    .filter(([name]) => name !== 'mix')
    .map(
      ([name, levels]): RandomFactor => ({
        name,
        levels: Int32Array.from(levels),
        count: Math.max(...levels) + 1,
      }),
    );
  const start = performance.now();
  const prepared = prepareMixed(fixed, names, random);
  const fits = scores.map((y) => fitPrepared(prepared, y));
  const fitted = performance.now();
  const rows = names.map((_, m) => names.map((_, j) => (j === m ? 1 : 0)));
  for (const fit of fits) allPairs(fit, rows, names);
  const end = performance.now();
  return { fits, fit: (fitted - start) / scores.length, tests: (end - start) / scores.length };
}

/** Milliseconds a fit of lme4, or null where R cannot be run. */
function timeLme4({ factors, scores }: Data, fits: readonly MixedFit[]): string | null {
  const folder = mkdtempSync(join(tmpdir(), 'bench-mixed-'));
  try {
    const file = join(folder, 'data.json');
    writeFileSync(file, JSON.stringify({ factors, scores: scores.map((y) => [...y]) }));
    const script = new URL('./mixed.R', import.meta.url).pathname;
    const answer = JSON.parse(
      execFileSync('Rscript', [script, file], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }),
    );
    fits.forEach((fit, i) => {
      const difference = Math.abs(fit.logRestrictedLikelihood! - answer.logLik[i]);
      if (!(difference < 1e-4)) throw new Error(`attribute ${i + 1}: likelihoods differ by ${difference}`);
    });
    return answer.milliseconds.toFixed(2);
  } catch (error) {
    if (error instanceof Error && /likelihoods differ/.test(error.message)) throw error;
    return null;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
