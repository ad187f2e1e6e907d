import { expect, test } from 'vitest';
import { createRandom } from '../../engine/numeric/random.ts';
import { killWhileAnswering } from '../support/kill-rounds.ts';

/** Killing a process proves nothing about power loss; for that answers rest on synchronous=FULL. */
test('killed without warning at 200 random moments, the workbench has every acknowledged answer', async () => {
  const random = createRandom(200, 'moments of killing');
  const moments = Array.from({ length: 200 }, () => ({
    answers: Math.floor(40 * random.uniform()),
    pause: 10 * random.uniform(),
  }));
  const { kills, acknowledged } = await killWhileAnswering(moments);
  console.info(`killed ${kills} times, ${acknowledged} acknowledged answers, none lost`);
  expect(kills).toBe(200);
  expect(acknowledged).toBeGreaterThan(2000);
});
