import { expect, test } from 'vitest';
import { openStore } from '../../trials/store/store.ts';
import { panelEvening } from '../support/panel-evening.ts';
import { type RoughPhone, roughPhone } from '../support/rough-phone.ts';
import { startProcess } from '../support/start-process.ts';

/** The value below which so large a share of a list lies. */
function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}

/** Looks at the live page every quarter of a second until told to stop; returns how long each look took. */
function watchLive(address: string): () => Promise<number[]> {
  const took: number[] = [];
  let going = true;
  const watching = (async () => {
    while (going) {
      const began = performance.now();
      const response = await fetch(address).catch(() => null);
      if (response !== null) {
        await response.json();
        expect(response.status).toBe(200);
        took.push(performance.now() - began);
      }
      await new Promise((resolve) => setTimeout(resolve, 250));
    }
  })();
  return async () => {
    going = false;
    await watching;
    return took;
  };
}

/** An evening of so many phones; checks every acknowledged answer and every final mark, and tells the figures. */
async function evening(tasters: number, trouble: number) {
  const { folder, trial, sitting, phones } = panelEvening(tasters);
  const { child, base, ended } = await startProcess(['--data', folder, '--port', '0']);
  const rough = phones.map((phone, i) => roughPhone({ ...phone, base, seed: 1 + i, trouble, batch: 50 }));
  const stopWatching = watchLive(`${base}/api/trials/${trial}/sittings/${sitting}/live`);
  const began = performance.now();
  await Promise.all(rough.map((phone) => phone.run()));
  const seconds = (performance.now() - began) / 1000;
  const live = await stopWatching();
  child.kill('SIGKILL');
  await ended;
  const answers = checkStored(
    folder,
    { trial, sitting },
    phones.map(({ name }) => name),
    rough,
  );
  const took = rough.flatMap((phone) => phone.took);
  return {
    tasters,
    answers,
    perSecond: answers / seconds,
    p99: quantile(took, 0.99),
    live: quantile(live, 0.99),
    cut: rough.reduce((sum, phone) => sum + phone.cut.times, 0),
  };
}

function checkStored(
  folder: string,
  place: { trial: string; sitting: string },
  names: readonly string[],
  phones: readonly RoughPhone[],
): number {
  const store = openStore(folder);
  const counted = store.answers.counted(place.trial, place.sitting, false);
  let answers = 0;
  names.forEach((assessor, i) => {
    const held = store.answers.messages({ ...place, assessor }).map(({ message }) => message);
    expect(new Set(held).size).toBe(held.length);
    expect([...phones[i]!.acknowledged].filter((id) => !held.includes(id))).toEqual([]);
    const own = counted.filter((one) => one.assessor === assessor);
    expect(new Map(own.map(({ code, question, value }) => [`${code} ${question}`, value]))).toEqual(
      phones[i]!.given,
    );
    answers += held.length;
  });
  expect(store.pragma('integrity_check')).toBe('ok');
  store.close();
  return answers;
}

test('200 phones on a bad network: every answer once, the last mark counts, the live page answers', async () => {
  const figures = await evening(200, 0.1);
  console.info('200 phones, 12 cups of 10 questions, a third of all messages in trouble:', figures);
  expect(figures.answers).toBeGreaterThanOrEqual(200 * 120);
  // Whoever looks waits about as long as whoever answers, on a fast machine or a slow one.
  expect(figures.live).toBeLessThan(3 * figures.p99 + 500);
});

test('answers a second hold up from 10 to 500 phones', async () => {
  const rows = [];
  for (const tasters of [10, 50, 200, 500]) rows.push(await evening(tasters, 0));
  console.table(rows);
  const [few, , , many] = rows;
  expect(many!.perSecond).toBeGreaterThan(0.2 * few!.perSecond);
});
