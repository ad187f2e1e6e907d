import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

const jsx = { jsx: { runtime: 'automatic', importSource: 'preact' } } as const;

/**
 * Three projects: `fast` (engine, files, store, HTTP), `browser` (a real Chromium against the built program)
 * and `long` (loads, kills, coverage by simulation; run by `npm run test:long`).
 */
export default defineConfig({
  oxc: jsx,
  test: {
    reporters: ['default'],
    setupFiles: ['tests/support/tidy-up.ts'],
    // One worker less than there are cores would leave half of a small machine idle.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    projects: [
      {
        extends: true,
        test: {
          name: 'fast',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: ['tests/browser/**', 'tests/long/**'],
          testTimeout: 60_000,
          // A module is loaded and warmed up once a worker, not once a file: half the time of the whole.
          isolate: false,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          testTimeout: 180_000,
          hookTimeout: 120_000,
          // A page that is polled is given as long as one that is waited for.
          expect: { poll: { timeout: 30_000 } },
        },
      },
      {
        extends: true,
        test: {
          name: 'long',
          include: ['tests/long/**/*.test.ts'],
          fileParallelism: false,
          testTimeout: 3_600_000,
        },
      },
    ],
  },
});
