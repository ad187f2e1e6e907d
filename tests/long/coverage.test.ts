import { describe, expect, it } from 'vitest';
import { loadSolver } from '../../trials/solver.ts';
import { coverageIn, coverageQuestions, summarise } from '../worlds/coverage.ts';
import { WORLD_FAMILIES } from '../worlds/world.ts';

/** Seeds other than those that the intervals were tuned with (1 to 30). */
const [FIRST, WORLDS] = [201, 40];

describe('95 % intervals at one and a half mixes a term and six assessors', async () => {
  const solver = await loadSolver();
  const questions = WORLD_FAMILIES.flatMap((family) => coverageQuestions(family));
  it.each(questions.map((q) => [`${q.family}: ${q.model}, mixes for ${q.planned}`, q] as const))(
    '%s',
    (_, question) => {
      const found = Array.from({ length: WORLDS }, (_, i) => coverageIn(FIRST + i, question, solver));
      const { share, error } = summarise(found);
      // 92 to 98 %, give or take twice the Monte Carlo error
      expect(share).toBeGreaterThan(0.92 - 2 * error);
      expect(share).toBeLessThan(0.98 + 2 * error);
      expect(error).toBeLessThan(0.03);
    },
  );
});
