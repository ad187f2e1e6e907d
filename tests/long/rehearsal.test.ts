import { describe, expect, it } from 'vitest';
import { rehearse } from '../../engine/aim/rehearsal/rehearse.ts';
import { loadSolver } from '../../trials/solver.ts';
import { rehearsalInput } from '../engine/aim/rehearsal-input.ts';

const solver = await loadSolver();
const foundBy = (by: Parameters<typeof rehearsalInput>[0]) => {
  return rehearse(rehearsalInput({ truths: 60, ...by }), { solver }).stages.at(-1)!;
};

describe('how often a rehearsal finds the target', () => {
  it('rises with tasters, on the same sixty truths', () => {
    const found = [1, 4, 12].map((assessors) => foundBy({ assessors }).found);
    expect(found[1]).toBeGreaterThan(found[0]!);
    expect(found[2]).toBeGreaterThan(found[1]!);
  });

  it('rises with the size of the plan and with more rounds', () => {
    const small = foundBy({ mixes: 4 });
    const large = foundBy({ mixes: 8 });
    expect(large.found).toBeGreaterThan(small.found);
    expect(foundBy({ rounds: 2 }).found).toBeGreaterThan(large.found);
  });
});
