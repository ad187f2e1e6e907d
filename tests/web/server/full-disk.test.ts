import { expect, test } from 'vitest';
import { openStore } from '../../../trials/store/store.ts';
import { folderWithData } from '../../support/trial-folder.ts';
import { openSittingIn, openWorkbench } from '../../support/workbench.ts';

test('on a full disk a phone is told to keep its answers, in words, and what is there can be read', async () => {
  const folder = folderWithData({ demo: false });
  const store = openStore(folder);
  const { ann, codes, place } = openSittingIn(store);
  const pages = Number(store.pragma('page_count'));
  store.close();
  const { ask } = await openWorkbench({ folder, maximumPages: pages + 4 });
  let acknowledged = 0;
  let refused = null;
  for (let count = 0; count < 500 && refused === null; count++) {
    const id = count.toString(16).padStart(32, '0');
    const answer = { id, code: codes[0], question: 'bitter', value: 1, phone: 'f'.repeat(32), count };
    const reply = await ask('sendAnswers', { headers: ann, body: { answers: [answer] } });
    if (reply.status === 200) acknowledged += reply.body.stored.length;
    else refused = reply;
  }
  expect(acknowledged).toBeGreaterThan(0);
  expect(refused).toMatchObject({ status: 503, body: { error: { code: 'unavailable' } } });
  expect(refused!.body.error.message).toMatch(/disk is full: nothing was stored; make room/);
  expect((await ask('readBallot', { headers: ann })).status).toBe(200);
  expect((await ask('readLive', { params: place })).body.trays[0].phones).toBe(1);
});
