import { makeRound } from '../../trials/rounds/accept-round.ts';
import { createTrial } from '../../trials/rounds/create-trial.ts';
import { drawSitting } from '../../trials/rounds/draw-sitting.ts';
import { openSitting } from '../../trials/rounds/sitting-life.ts';
import { weighMix } from '../../trials/rounds/weigh-mix.ts';
import { openStore } from '../../trials/store/store.ts';
import { sittingRequest, smallBrief } from './small-trial.ts';
import { contextOf, folderWithData } from './trial-folder.ts';

const CUPS = 12;
const QUESTIONS = 10;

/** Data with an open sitting of twelve cups and ten questions for so many tasters. */
export function panelEvening(tasters: number) {
  const folder = folderWithData({ demo: false });
  const store = openStore(folder);
  const context = contextOf(store);
  const scale = [0, 100] as [number, number];
  const questions = Array.from({ length: QUESTIONS }, (_, i) => `q${i + 1}`);
  const attributes = questions.map((id) => ({ id, name: id, scale }));
  const { trial } = createTrial(context, { ...smallBrief(), attributes });
  const mixes = Array.from({ length: CUPS }, (_, i) => {
    const grams = { peelOil: 2, limeOil: 0.5 + i / 10, woodOil: 1.5 - i / 10 };
    const ratios = { peelOil: 0.5, limeOil: grams.limeOil / 4, woodOil: grams.woodOil / 4 };
    const planned = { ratios, grams, settings: { dose: 0.3 } };
    return { mix: `mix ${i + 1}`, blend: `mix ${i + 1}`, repeats: null, again: false, planned, why: '' };
  });
  makeRound(context, trial, { mixes, reading: null, restHours: 0 });
  for (const { mix, planned } of mixes)
    weighMix(context, { trial, round: 1, mix }, { grams: planned.grams, note: '' });
  const assessors = Array.from({ length: tasters }, (_, i) => `P${i + 1}`);
  const request = sittingRequest({ assessors, mixes: mixes.map(({ mix }) => mix), reference: false });
  const { sitting, tokens } = drawSitting(context, { trial, round: 1 }, request);
  openSitting(context, { trial, sitting });
  const phones = tokens.map(({ assessor, token }) => ({
    name: assessor,
    token,
    codes: store.sittings.cupsOf({ trial, sitting, assessor }).map(({ code }) => code),
    questions,
  }));
  store.close();
  return { folder, trial, sitting, phones };
}
