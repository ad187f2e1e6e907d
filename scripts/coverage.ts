/**
 * `npm run coverage [-- worlds]`: how often 95 % intervals hold what a simulated panel would give, by family of
 * worlds, kind of model and stratum; the table goes to standard output and docs/coverage.md. Each world is one of a list, so that the same number gives the same table.
 */
import { writeFileSync } from 'node:fs';
import {
  type CoverageQuestion,
  coverageIn,
  coverageQuestions,
  summarise,
  type WorldCoverage,
} from '../tests/worlds/coverage.ts';
import { WORLD_FAMILIES } from '../tests/worlds/world.ts';
import { loadSolver } from '../trials/solver.ts';

const FIRST = 201;
const worlds = Number(process.argv[2] ?? 40);
const solver = await loadSolver();
const lines = [
  '# How often the intervals hold',
  '',
  'Written by `npm run coverage`. 95 % intervals of `predict` against what this panel would give on average (each',
  "assessor's habits and own reaction at the ratio; sessions and cup positions at their realised average), at 20 ratios",
  'drawn uniformly in each of many simulated worlds (`tests/worlds`). Six assessors, one and a half mixes for each term',
  'of the model in the second column, every mix tasted once by everybody, weighed with slips. Share held in percent,',
  'averaged over worlds, with its Monte Carlo standard error between worlds; width in points of 100.',
  '',
  `${worlds} worlds a family, seeds ${FIRST} to ${FIRST + worlds - 1}; the intervals were tuned with seeds 1 to 30.`,
  '',
  '| worlds | model (mixes for) | all | 3-4 components | 5-6 components | no dose | with a dose | width |',
  '|---|---|---|---|---|---|---|---|',
];
for (const family of WORLD_FAMILIES)
  for (const question of coverageQuestions(family)) {
    lines.push(row(question));
    console.log(lines.at(-1));
  }
writeFileSync('docs/coverage.md', `${lines.join('\n')}\n`);

function row(question: CoverageQuestion): string {
  const found = Array.from({ length: worlds }, (_, i) => coverageIn(FIRST + i, question, solver));
  const cell = (which: (world: WorldCoverage) => boolean): string => {
    const some = found.filter(which);
    if (some.length < 2) return '-';
    const { share, error } = summarise(some);
    return `${(100 * share).toFixed(1)} ± ${(100 * error).toFixed(1)}`;
  };
  const cells = [
    question.family,
    `${question.model} (${question.planned})`,
    cell(() => true),
    cell(({ components }) => components < 5),
    cell(({ components }) => components > 4),
    cell(({ dose }) => !dose),
    cell(({ dose }) => dose),
    summarise(found).width.toFixed(1),
  ];
  return `| ${cells.join(' | ')} |`;
}
