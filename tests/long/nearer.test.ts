import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { simulateSitting } from '../../trials/demo/simulate-sitting.ts';
import { drawSitting } from '../../trials/rounds/draw-sitting.ts';
import { enterPaper } from '../../trials/rounds/enter-paper.ts';
import { closeSitting, openKey, openSitting } from '../../trials/rounds/sitting-life.ts';
import { weighMix } from '../../trials/rounds/weigh-mix.ts';
import { SittingRequest } from '../../trials/schema/api.ts';
import { openStore } from '../../trials/store/store.ts';
import { DESK, openPage } from '../browser/program.ts';
import { setStage } from '../browser/stage.ts';
import { contextOf } from '../support/trial-folder.ts';
import { trueDistance } from '../support/true-distance.ts';

const stage = setStage();
const { program } = stage;
const trial = 'demo';
const TASTERS = ['P1', 'P2', 'P3', 'P4', 'P5', 'P6'];

test('two rounds of the demo, tasted by its simulator, end nearer the target than they began', async () => {
  const { page, errors } = await openPage(stage.browser, DESK, /Failed to load resource/);
  await read(page, 1);
  await page.goto(`${program.address}/#/trials/demo/next`);
  await page.getByLabel('How many?').fill('4');
  await page.getByRole('button', { name: 'Propose mixes' }).click();
  await page.getByRole('heading', { name: 'Worth making next' }).waitFor();

  await page.getByText(/^What if the target/).click();
  await page.getByLabel('Bitter', { exact: true }).fill('90');
  await page.getByRole('button', { name: 'Look again' }).click();
  await page.getByText(/^Tried out: Bitter aimed at 90/).waitFor();
  expect(await page.getByRole('button', { name: /^Make these/ }).count()).toBe(0);
  await page.getByRole('link', { name: 'Back to the brief as it stands' }).click();

  await page.getByRole('button', { name: /^Make these/ }).waitFor();
  await page.getByLabel('make this one').last().uncheck();
  await page.getByRole('button', { name: /^Make these/ }).click();
  await page.getByRole('heading', { name: 'Round 2: weigh' }).waitFor();

  await program.kill();
  const { before, after } = tasteRoundTwo();
  await program.start();
  expect(after).toBeLessThan(before / 2);

  await read(page, 2);
  await page.goto(`${program.address}/#/trials/demo/next`);
  await page.getByRole('button', { name: /^Propose/ }).click();
  await page.getByRole('heading', { name: 'If tasting stopped now' }).waitFor();
  await page.getByText('In whole parts, for others to weigh').waitFor();
  expect(errors).toEqual([]);
});

async function read(page: Page, round: number): Promise<void> {
  await page.goto(`${program.address}/#/trials/demo/rounds/${round}/read`);
  await page.getByRole('button', { name: /^(Read the scores|Read again)$/ }).click();
  await page.getByRole('heading', { name: 'Can we trust the panel?' }).waitFor();
}

/** Weighs as planned, pours, lets the invented tasters taste; mean true distance of each round's mixes. */
function tasteRoundTwo(): { before: number; after: number } {
  const store = openStore(program.folder);
  const context = contextOf(store);
  const made = store.rounds.mixes(trial, 2);
  const fresh = made.filter(({ again }) => !again);
  for (const { mix, planned } of fresh)
    weighMix(context, { trial, round: 2, mix }, { grams: planned.grams, note: '' });
  const request = SittingRequest.parse({
    label: 'Evening 3',
    assessors: TASTERS,
    mixes: made.map(({ mix }) => mix),
  });
  const { sitting } = drawSitting(context, { trial, round: 2 }, request);
  const place = { trial, sitting };
  openSitting(context, place);
  const trays = TASTERS.map((assessor) => ({
    assessor,
    cups: store.sittings.cupsOf({ ...place, assessor }),
  }));
  const all = [1, 2].flatMap((round) => store.rounds.mixes(trial, round));
  const mixes = all.map(({ mix, planned }) => ({ mix, grams: planned.grams, dose: planned.settings.dose! }));
  const scores = simulateSitting({ mixes, sittingLabel: 'Evening 3', trays, seed: 5 });
  for (const { assessor, cups } of trays)
    enterPaper(context, place, {
      assessor,
      answers: cups.flatMap(({ code }, i) => {
        const cup = scores.filter((one) => one.assessor === assessor)[i]!;
        return Object.entries(cup.scores).map(([question, value]) => ({ code, question, value }));
      }),
    });
  closeSitting(context, place);
  openKey(context, place, 'all ballots are in');
  const distance = (round: number) => {
    const own = store.rounds.mixes(trial, round).filter(({ again }) => !again);
    return own.reduce(
      (sum, { planned }) =>
        sum + trueDistance(Object.values(planned.ratios), planned.settings.dose!) / own.length,
      0,
    );
  };
  const found = { before: distance(1), after: distance(2) };
  store.close();
  return found;
}
