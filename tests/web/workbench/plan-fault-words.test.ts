import { describe, expect, it } from 'vitest';
import demo from '../../../trials/demo/brief.json' with { type: 'json' };
import type { Fault } from '../../../trials/schema/api.ts';
import { Brief } from '../../../trials/schema/brief.ts';
import { planFaultWords } from '../../../web/workbench/plan/plan-fault-words.ts';

const brief = Brief.parse(demo);
const fault = (where: string, found: string, allowed?: string): Fault => ({
  ...{ where, found, message: `${where}: found ${found}, allowed ${allowed}` },
  ...(allowed === undefined ? {} : { allowed }),
});

describe('a refused plan', () => {
  it('is told in the words of its form, never in those of a file', () => {
    expect(planFaultWords(brief, fault('atMost.noot', '0.1', 'at least 2 g: 8 bottles need that much'))).toBe(
      'At most in all of Nootkatone, 10 % by mass in ethanol: 0.1 g will not do; at least 2 g: 8 bottles need that much.',
    );
    expect(planFaultWords(brief, fault('replicated', '9', 'less than mixes, 8'))).toBe(
      'Of these weighed twice: 9 will not do; it takes less than mixes, 8.',
    );
    expect(planFaultWords(brief, fault('points', 'lattice', 'a region with 5 corners'))).toMatch(
      /^Published points to begin with: each alone, and halves of each two will not do/,
    );
    expect(planFaultWords(brief, fault('pinned[3]', '[0.2,0.8]', 'a mix within all bounds'))).toBe(
      'Mixes held where they are: it takes a mix within all bounds.',
    );
  });

  it('keeps what the server says of anything else', () => {
    expect(planFaultWords(brief, fault('components[1]', '0.01', 'a balance'))).toMatch(/^components\[1\]/);
    expect(planFaultWords(brief, fault('', 'x'))).toMatch(/found x/);
  });
});
