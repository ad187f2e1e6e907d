import { describe, expect, test } from 'vitest';
import { openSitting } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { openStore } from '../../../trials/store/store.ts';
import { StoreError } from '../../../trials/store/store-error.ts';
import { drawnTrial } from '../../support/small-trial.ts';
import { contextOf, folderWithData } from '../../support/trial-folder.ts';

describe('a disk that fills up', () => {
  test('refuses in words, keeps every acknowledged answer and stays sound', () => {
    const folder = folderWithData({ demo: false });
    const roomy = openStore(folder);
    const { trial, sitting } = drawnTrial(contextOf(roomy));
    openSitting(contextOf(roomy), { trial, sitting });
    const pages = Number(roomy.pragma('page_count'));
    roomy.close();
    const store = openStore(folder, { maximumPages: pages + 6 });
    const context = contextOf(store);
    const seat = { trial, sitting, assessor: 'Ann' };
    const { code } = store.sittings.cupsOf(seat)[0]!;
    const acknowledged: string[] = [];
    let refusal: unknown;
    for (let count = 0; refusal === undefined && count < 5000; count++) {
      const message = { code, question: 'bitter', value: 1, phone: messageId(['p']), count };
      const batch = [0, 1].map((n) => ({ ...message, id: messageId([String(count), String(n)]) }));
      try {
        acknowledged.push(...takeAnswers(context, seat, batch).stored);
      } catch (thrown) {
        refusal = thrown;
      }
    }
    expect(refusal).toBeInstanceOf(StoreError);
    expect((refusal as StoreError).fault).toBe('full');
    expect((refusal as StoreError).message).toMatch(/disk is full.*nothing was stored/);
    expect(acknowledged.length).toBeGreaterThan(0);
    store.close();
    const again = openStore(folder);
    expect(again.answers.messages(seat).map(({ message }) => message)).toEqual(acknowledged);
    expect(again.pragma('integrity_check')).toBe('ok');
    again.close();
  });
});
