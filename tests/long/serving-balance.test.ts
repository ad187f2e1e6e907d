import { expect, test } from 'vitest';
import { leastBalance } from '../../engine/panel/serving/order-balance.ts';
import { drawSittings } from '../../engine/panel/serving-orders.ts';

test('balance of whole blocks for 2 to 16 mixes and 2 to 60 assessors beside the best that counting allows', () => {
  const above: string[] = [];
  let slowest = 0;
  for (let m = 2; m <= 16; m++)
    for (let n = 2; n <= 60; n++) {
      const began = performance.now();
      const { balance } = drawSittings({ assessors: names('P', n), mixes: names('m', m), seed: 1 });
      slowest = Math.max(slowest, performance.now() - began);
      const least = leastBalance(new Array<number>(n).fill(m), m);
      expect(balance.positionSpread).toBe(least.positionSpread);
      expect(balance.followSpread).toBeLessThanOrEqual(2);
      if (balance.followSpread > least.followSpread) above.push(`${m}×${n}`);
    }
  console.log(
    `follow spread above the bound (2 instead of 0 or 1) in ${above.length} of 885: ${above.join(' ')}`,
  );
  console.log(`slowest draw ${slowest.toFixed(0)} ms`);
  expect(above.length).toBeLessThanOrEqual(50);
});

function names(letter: string, count: number): string[] {
  return Array.from({ length: count }, (_, i) => `${letter}${i + 1}`);
}
