import { expect, test } from 'vitest';
import { changeBrief } from '../../trials/rounds/create-trial.ts';
import { drawSitting } from '../../trials/rounds/draw-sitting.ts';
import { closeSitting, openKey, openSitting } from '../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../trials/rounds/take-answers.ts';
import { messageIdOf } from '../../trials/schema/waiting-code.ts';
import { openStore } from '../../trials/store/store.ts';
import { manyForms } from '../support/many-forms.ts';
import { sittingRequest, weighedTrial } from '../support/small-trial.ts';
import { contextOf } from '../support/trial-folder.ts';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

const TASTERS = ['Ann', 'Bob', 'Cleo', 'Dan', 'Eve', 'Finn', 'Gus', 'Hal'];
let trial = '';
const stage = setStage(({ folder }) => {
  trial = tasteEveryForm(folder);
});

/** A trial in which eight tasters answered every kind of question by a fixed rule. */
function tasteEveryForm(folder: string): string {
  const store = openStore(folder);
  const context = contextOf(store);
  const made = weighedTrial(context);
  changeBrief(context, made, manyForms());
  const request = sittingRequest({ assessors: TASTERS });
  const { sitting } = drawSitting(context, { trial: made, round: 1 }, request);
  const place = { trial: made, sitting };
  openSitting(context, place);
  const phone = messageId(['phone']);
  let count = 0;
  TASTERS.forEach((assessor, t) => {
    const seat = { ...place, assessor };
    for (const { mix, code } of store.sittings.cupsOf(seat)) {
      const m = ['qa1', 'qb2', 'reference', 'qc3'].indexOf(mix);
      const marks = {
        bitter: 30 + 15 * m + 2 * t + ((3 * t + m) % 5),
        fresh: 1 + Math.min(2, (m + (t % 3)) % 3),
        liking: 9 - 2 * m - ((t + m) % 2),
        sweet: m === 0 ? 3 : 3 + Number(t < 5) + Number(t < 2 && m === 3),
        order: m + 1,
        notes: m === 3 ? 'soap' : t % 2 === 0 ? 'pith' : 'pith, peel',
      };
      const answers = Object.entries(marks).map(([question, value]) => {
        count += 1;
        return { id: messageIdOf(phone, count), code, question, value, phone, count };
      });
      expect(takeAnswers(context, seat, answers).refused).toEqual([]);
    }
  });
  closeSitting(context, place);
  openKey(context, place, 'all ballots are in');
  store.close();
  return made;
}

test('what was asked in steps, as just about right, in order and in words is read on the page', async () => {
  const { page, errors } = await openPage(stage.browser, DESK);
  await page.goto(`${stage.program.address}/#/trials/${trial}/rounds/1/read`);
  await page.getByRole('button', { name: 'Read the scores' }).click();
  await page.getByRole('heading', { name: 'Can we trust the panel?' }).waitFor();

  const question = page.getByRole('combobox', { name: 'Question', exact: true }).first();
  await question.selectOption({ label: 'Sweet' });
  await page.getByText(/those who find too much like it \d\.\d less/).waitFor();
  await page.getByText('8 of 8 find it just about right.').waitFor();
  await question.selectOption({ label: 'Fresh' });
  await page.getByRole('heading', { name: 'What was chosen' }).waitFor();
  expect(await page.getByRole('img', { name: /\d flat, \d fresh, \d sharp/ }).count()).toBe(4);

  await page.getByRole('heading', { name: 'In order: Bitterness' }).waitFor();
  await page.getByText('The tasters agree on an order: qc3 has the most, qa1 the least.').waitFor();
  await page.getByText(/^Used for some mixes more than for others: soap, pith/).waitFor();
  await page.getByRole('heading', { name: 'What goes with liking' }).waitFor();
  expect(errors).toEqual([]);
});
