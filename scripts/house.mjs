/**
 * What a fresh clone needs before anything else can run: packages installed, program built, a browser found.
 * Plain Node without packages, since it runs before there are any.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = dirname(dirname(fileURLToPath(import.meta.url)));
const stamp = join(root, 'node_modules', '.dropwise-lock');
const builtStamp = join(root, 'dist', '.built');

/** Runs a program in the project folder with its output shown; returns its exit status. */
export function run(program, args, options = {}) {
  const done = spawnSync(program, args, { cwd: root, stdio: 'inherit', ...options });
  if (done.error) {
    console.error(`dropwise: cannot run ${program}: ${done.error.message}`);
    return 1;
  }
  return done.status ?? 1;
}

/** Ends the process where a step failed. */
export function must(status, sentence) {
  if (status === 0) return;
  console.error(`dropwise: ${sentence}`);
  process.exit(1);
}

export function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  const fits = (major === 20 && minor >= 19) || (major === 22 && minor >= 12) || major > 22;
  must(
    fits ? 0 : 1,
    `needs Node.js 20.19 or later of the 20 line, or 22.12 and later; this is ${process.versions.node}`,
  );
}

/** Installs the locked packages unless this very lock is installed already. */
export function ensureInstalled() {
  checkNode();
  const lock = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) return;
  const missing = missingCompilerParts();
  if (missing.length > 0) console.error(compilerAdvice(missing));
  console.error('dropwise: installing what is missing (first time only; up to three minutes) …');
  const status = run('npm', ['ci', '--include=dev', '--no-audit', '--no-fund'], {
    shell: process.platform === 'win32',
  });
  must(
    status,
    missing.length > 0
      ? compilerAdvice(missing)
      : 'the packages could not be installed; the lines above say why',
  );
  writeFileSync(stamp, lock);
}

/** What compiling the database module would need and this machine lacks. */
function missingCompilerParts() {
  if (process.platform === 'win32') return [];
  const has = (program) => spawnSync('sh', ['-c', `command -v ${program}`]).status === 0;
  const compiler = ['g++', 'c++', 'clang++'].some(has) ? [] : ['g++'];
  return [...['python3', 'make'].filter((p) => !has(p)), ...compiler];
}

function compilerAdvice(missing) {
  const apt = `sudo apt-get install ${missing.join(' ')}`;
  const how = process.platform === 'darwin' ? 'xcode-select --install' : apt;
  return (
    'dropwise: the database module is compiled where no ready-made one can be had for this system; ' +
    `that needs ${missing.join(', ')}, not found here. Install: ${how}`
  );
}

/** Builds unless nothing has changed since the last build. */
export function ensureBuilt() {
  if (existsSync(builtStamp) && newestSource() <= statSync(builtStamp).mtimeMs) return;
  build();
}

/** Compiles the program to dist/ and bundles the pages to dist/pages/. */
export function build() {
  console.error('dropwise: building …');
  rmSync(join(root, 'dist'), { recursive: true, force: true });
  const started = new Date();
  must(
    run(process.execPath, [bin('typescript', 'tsc'), '-p', 'tsconfig.build.json']),
    'the program does not compile',
  );
  copyData(join(root, 'trials'));
  must(
    run(process.execPath, [bin('vite', 'vite.js'), 'build', '--logLevel', 'warn']),
    'the pages do not build',
  );
  writeFileSync(builtStamp, '');
  utimesSync(builtStamp, started, started);
}

function bin(name, file) {
  return join(root, 'node_modules', name, 'bin', file);
}

/** The compiler leaves data files behind: they travel beside the code that reads them. */
function copyData(folder) {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const from = join(folder, entry.name);
    if (entry.isDirectory()) copyData(from);
    else if (entry.name.endsWith('.json')) {
      const to = join(root, 'dist', relative(root, from));
      mkdirSync(dirname(to), { recursive: true });
      cpSync(from, to);
    }
  }
}

function newestSource() {
  const folders = ['engine', 'trials', 'web'].map((f) => join(root, f));
  const files = ['package-lock.json', 'tsconfig.json', 'tsconfig.build.json', 'vite.config.ts'].map((f) =>
    join(root, f),
  );
  return Math.max(...folders.map(newestIn), ...files.filter(existsSync).map((f) => statSync(f).mtimeMs));
}

function newestIn(folder) {
  let newest = statSync(folder).mtimeMs;
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    newest = Math.max(newest, entry.isDirectory() ? newestIn(path) : statSync(path).mtimeMs);
  }
  return newest;
}

const BROWSERS = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/snap/bin/chromium',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** The browser for the tests: DROPWISE_CHROMIUM, else the usual places; on a CI machine Debian's is installed. */
export function findChromium() {
  const known = [process.env.DROPWISE_CHROMIUM, ...BROWSERS].find((path) => path && existsSync(path));
  if (known) return known;
  if (process.env.CI && existsSync('/usr/bin/apt-get')) {
    must(run('apt-get', ['update', '-qq']), 'the package list could not be read');
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    must(
      run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], { env }),
      'Chromium could not be installed',
    );
    return '/usr/bin/chromium';
  }
  must(
    1,
    'the browser tests need Chromium: install it (Debian: sudo apt-get install chromium) or name it in DROPWISE_CHROMIUM',
  );
}
