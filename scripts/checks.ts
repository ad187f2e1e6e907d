/**
 * `npm run checks`: runs the comparisons with outside values and writes how many digits they reach, the worst
 * included, to docs/checks.md. A failing comparison fails the command and nothing is written.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';

/** What each file is held against; expected values with script and versions lie under tests/reference. */
const AGAINST: Record<string, string> = {
  'tests/engine/numeric/distributions.test.ts': 'R: distributions and their far tails',
  'tests/engine/numeric/studentized-range.test.ts': 'SciPy and R: studentized range',
  'tests/engine/numeric/certified-digits.test.ts': 'NIST: certified least squares',
  'tests/engine/numeric/least-squares.test.ts': 'exact and R: least squares',
  'tests/engine/panel/mixed/reference.test.ts':
    'lme4, lmerTest, pbkrtest, emmeans, nlme: mixed models, 29 cases',
  'tests/engine/panel/panel-reference.test.ts': 'lme4, lmerTest, pbkrtest, emmeans: panels',
  'tests/engine/panel/age-at-tasting.test.ts': 'lme4, lmerTest: age at tasting',
  'tests/trials/command/fresh-panels.test.ts':
    'lme4, lmerTest, pbkrtest, emmeans, base R: the commands on fresh panels',
  'tests/engine/model/ratio-fit-reference.test.ts': 'lme4, lmerTest, pbkrtest: mixture models',
  'tests/engine/model/influence.test.ts': 'R (influence.measures) and least squares by hand: influence',
  'tests/engine/model/process/process.test.ts': 'scikit-learn: Gaussian process, everything held',
  'tests/engine/difference/read-difference.test.ts': 'tables, SciPy and R: difference tests',
  'tests/engine/difference/plan-difference.test.ts': 'tables and R: planning by exact power',
  'tests/engine/difference/other-tests.test.ts':
    'R and worked examples: similarity, preference, repeated, sequential',
  'tests/engine/panel/ranking/ranking.test.ts': 'SciPy and worked examples: Friedman, Page',
  'tests/engine/panel/ordinal/cumulative-link.test.ts': 'R (ordinal): cumulative link models',
  'tests/engine/panel/choices/choices.test.ts':
    'R and worked examples: paired strength, just about right, choices',
  'tests/engine/panel/map/map.test.ts': 'R (prcomp): principal components',
};

/** Files that hold simulations too, whose closeness is no matter of digits: only tests named so are counted. */
const ONLY: Record<string, string> = {
  'tests/engine/model/process/process.test.ts': 'a process with everything held',
  'tests/engine/panel/age-at-tasting.test.ts': 'the age of bottles beside the mixes',
};

const folder = mkdtempSync(join(tmpdir(), 'checks-'));
try {
  const file = join(folder, 'digits.jsonl');
  writeFileSync(file, '');
  const args = ['vitest', 'run', '--project', 'fast', ...Object.keys(AGAINST)];
  const { status } = spawnSync('npx', args, { stdio: 'inherit', env: { ...process.env, DIGITS_FILE: file } });
  if (status !== 0) process.exit(1);
  writeFileSync('docs/checks.md', tableOf(readFileSync(file, 'utf8')));
} finally {
  rmSync(folder, { recursive: true, force: true });
}

interface Note {
  testPath: string;
  currentTestName: string;
  error: number;
}

function tableOf(text: string): string {
  const notes = text.split('\n').flatMap((line) => (line === '' ? [] : [JSON.parse(line) as Note]));
  const rows = Object.entries(AGAINST).map(([file, against]) => {
    const own = notes.filter(
      ({ testPath, currentTestName }) =>
        relative(process.cwd(), testPath) === file && currentTestName.startsWith(ONLY[file] ?? ''),
    );
    if (own.length === 0) return `| ${against} | \`${file}\` | passes; digits are not noted | | | |`;
    const sorted = [...own].sort((a, b) => b.error - a.error);
    const [worst, middle] = [sorted[0]!, sorted[Math.floor(sorted.length / 2)]!];
    return `| ${against} | \`${file}\` | ${own.length} | ${digits(middle.error)} | ${digits(worst.error)} | ${worst.currentTestName.replaceAll('|', '/')} |`;
  });
  return [
    '# Checks against the outside',
    '',
    'Written by `npm run checks`: it runs the comparisons and notes, for every number compared, the digits that agree',
    '(minus the decimal logarithm of the relative difference, a stated absolute floor taken off). Expected values, the',
    'scripts that made them and their versions lie under `tests/reference`. The worst is often the other side: published',
    'tables have few digits, and optimisers stop short of the top.',
    '',
    '| held against | test | numbers | digits, middle | digits, worst | the worst is in |',
    '|---|---|---|---|---|---|',
    ...rows,
    '',
  ].join('\n');
}

function digits(error: number): string {
  return error === 0 ? 'all' : Math.max(0, -Math.log10(error)).toFixed(1);
}
