import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fitRatios } from '../../engine/model/fit-ratios.ts';
import type { FitInput } from '../../engine/model/fit-types.ts';
import { createRandom } from '../../engine/numeric/random.ts';
import type { Serving } from '../../engine/panel/observations.ts';
import { readPanel } from '../../engine/panel/read-panel.ts';

interface Panel {
  name: string;
  assessors: number;
  mixes: number;
  attributes: number;
  replicates: number;
}

const PANELS: Panel[] = [
  { name: 'trained panel', assessors: 12, mixes: 15, attributes: 10, replicates: 3 },
  { name: 'tasters', assessors: 120, mixes: 12, attributes: 30, replicates: 1 },
  { name: 'half as many tasters', assessors: 60, mixes: 12, attributes: 30, replicates: 1 },
  { name: 'twice as many tasters', assessors: 240, mixes: 12, attributes: 30, replicates: 1 },
];

/**
 * Times whole readings as the workbench makes them (every attribute: mixed model, means, all pairs, each assessor,
 * use of the scale, suspect ballots; then the quadratic in the ratios with its tests and leaving mixes out), once
 * cold and once warm, beside lme4 fitting the same two models an attribute in the same run. Likelihoods may be lower than
 * lme4's by at most 1e-4 and higher by 1e-2, else the bench fails. Memory is the process's peak so far.
 */
export function benchReading(print: (line: string) => void): void {
  print(
    'milliseconds: panel reading, ratios, both; lme4 (mix) + lme4 (ratios), and lmerTest for the tests of mixes alone',
  );
  for (const panel of PANELS) {
    const input = simulate(panel);
    const cold = timeOnce(input);
    const warm = timeOnce(input);
    const other = timeLme4(panel, input, warm);
    const peak = Math.round(process.resourceUsage().maxRSS / 1024);
    print(
      `${panel.name.padEnd(22)} cups ${String(input.servings.length).padStart(5)}  cold ${ms(cold.panel + cold.ratios)}` +
        `  warm: panel ${ms(warm.panel)}  ratios ${ms(warm.ratios)}  both ${ms(warm.panel + warm.ratios)}  lme4 ${other}  peak ${peak} MB`,
    );
  }
}

function ms(value: number): string {
  return value.toFixed(0).padStart(6);
}

function simulate({ assessors, mixes, attributes, replicates }: Panel): FitInput {
  const random = createRandom(11, 'reading');
  const blends = Array.from({ length: mixes }, (_, m) => {
    const parts = [0.2 + random.uniform(), 0.2 + random.uniform(), 0.2 + random.uniform()];
    const total = parts.reduce((a, b) => a + b, 0);
    const shares = parts.map((part) => part / total);
    return { mix: `m${m + 1}`, blend: `m${m + 1}`, round: '1', shares, settings: [] };
  });
  const ids = Array.from({ length: attributes }, (_, k) => k);
  const level = blends.map(({ shares }) =>
    ids.map((k) => 35 + 40 * shares[k % 3]! + 30 * shares[0]! * shares[1]!),
  );
  const offset = draws(assessors, () => ids.map(() => 8 * random.normal()));
  const evening = draws(Math.max(2, replicates), () => ids.map(() => 3 * random.normal()));
  const servings: Serving[] = [];
  for (let a = 0; a < assessors; a++)
    for (let m = 0; m < mixes; m++) {
      const own = ids.map(() => 4 * random.normal());
      for (let r = 0; r < replicates; r++) {
        const session = (r + a) % Math.max(2, replicates);
        const scores = ids.map(
          (k) => level[m]![k]! + offset[a]![k]! + evening[session]![k]! + own[k]! + 8 * random.normal(),
        );
        servings.push({
          mix: `m${m + 1}`,
          assessor: `P${a + 1}`,
          session: `s${session + 1}`,
          replicate: String(r + 1),
          position: null,
          scores,
        });
      }
    }
  return {
    space: { components: ['a', 'b', 'c'].map((id) => ({ id, low: 0, high: 1 })), bounds: [], settings: [] },
    region: { centroid: [1 / 3, 1 / 3, 1 / 3], low: [0, 0, 0], high: [1, 1, 1] },
    mixes: blends,
    servings,
    attributes: ids.map((k) => ({ id: `a${k}`, scale: null, target: null, tolerance: 8, weight: 1 })),
    model: 'quadratic',
  };
}

function draws<T>(count: number, make: () => T): T[] {
  return Array.from({ length: count }, make);
}

function timeOnce(input: FitInput) {
  const start = performance.now();
  const panel = readPanel(input);
  const middle = performance.now();
  const fit = fitRatios(input);
  const end = performance.now();
  return { panel: middle - start, ratios: end - middle, likelihoods: [panel, fit].map(likelihoodsOf) };
}

function likelihoodsOf({
  attributes,
}: {
  attributes: { logRestrictedLikelihood: number | null }[];
}): number[] {
  return attributes.map(({ logRestrictedLikelihood }) => logRestrictedLikelihood!);
}

/** Milliseconds of lme4, or words where R cannot be run. @throws Error where likelihoods differ */
function timeLme4({ replicates }: Panel, input: FitInput, warm: ReturnType<typeof timeOnce>): string {
  const folder = mkdtempSync(join(tmpdir(), 'bench-reading-'));
  try {
    const file = join(folder, 'data.json');
    writeFileSync(file, JSON.stringify(tableFor(input, replicates)));
    const script = new URL('./reading.R', import.meta.url).pathname;
    const out = execFileSync('Rscript', [script, file], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    const answer = JSON.parse(out) as Record<'mix' | 'ratios' | 'tests', number> &
      Record<'logLik' | 'logLikRatios', number[]>;
    [answer.logLik, answer.logLikRatios].forEach((theirs, model) => {
      theirs.forEach((value, k) => {
        // lme4's usual tolerances stop a little short of the top, so that ours may be higher, but hardly lower
        const off = warm.likelihoods[model]![k]! - value;
        if (!(off > -1e-4 && off < 1e-2))
          throw new Error(`attribute ${k + 1}, model ${model + 1}: likelihoods differ by ${off}`);
      });
    });
    return `${ms(answer.mix)} + ${ms(answer.ratios)}, tests ${ms(answer.tests)}`;
  } catch (error) {
    if (error instanceof Error && /likelihoods differ/.test(error.message)) throw error;
    return 'not run here';
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function tableFor({ servings, mixes, attributes }: FitInput, replicates: number) {
  const shares = new Map(mixes.map((mix) => [mix.mix, mix.shares]));
  return {
    factors: {
      mix: servings.map(({ mix }) => mix),
      assessor: servings.map(({ assessor }) => assessor),
      ...(replicates > 1 ? { cell: servings.map(({ mix, assessor }) => `${assessor} ${mix}`) } : {}),
      session: servings.map(({ session }) => session),
    },
    terms: servings.map(({ mix }) => {
      const [a = 0, b = 0, c = 0] = shares.get(mix)!;
      return [a, b, c, a * b, a * c, b * c];
    }),
    scores: attributes.map((_, k) => servings.map(({ scores }) => scores[k])),
  };
}
