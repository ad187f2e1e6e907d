import { makeRound } from '../../trials/rounds/accept-round.ts';
import type { Context } from '../../trials/rounds/context.ts';
import { createTrial } from '../../trials/rounds/create-trial.ts';
import { drawSitting } from '../../trials/rounds/draw-sitting.ts';
import { addLot } from '../../trials/rounds/keep-lots.ts';
import { closeSitting, openKey, openSitting } from '../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../trials/rounds/take-answers.ts';
import { weighMix } from '../../trials/rounds/weigh-mix.ts';
import { SittingRequest } from '../../trials/schema/api.ts';
import { Brief } from '../../trials/schema/brief.ts';
import { NewLot } from '../../trials/schema/shelf-shapes.ts';

/** No space to break it at. */
const WORD = 'Aldehydwasserdampfdestillationsrueckstandsoele';
const LONG = 'Cold-pressed bitter orange peel oil from the southern terraces, last harvest';
const FEEL = 'Bitterness that stays at the back of the tongue after a full minute, first sip';
const NAMES = [
  `${LONG} A`,
  `${LONG} B`,
  WORD,
  '柚子の皮の精油（高知県産、冬収穫）',
  'زيت الورد الدمشقي المقطر',
  'G',
];
const QUESTIONS = [
  `${FEEL} A`,
  `${FEEL} B`,
  WORD,
  'مرارة تبقى في الحلق',
  '旨味の強さ',
  'Silent',
  'Fine',
  'Fresh',
];
const FINE = 0.005;
const MIXES = [WORD, `${LONG} A`, `${LONG} B`, 'm4', 'm5', 'm6', 'm7', 'm8'];
const GRAMS = 40;

/** Names as long as they may be, in several scripts; a trace, a fine scale, large prices, a question without answers. */
function hardBrief(): Brief {
  return Brief.parse({
    format: 'brief/1',
    name: `${LONG} ${WORD}`,
    currency: 'IDR',
    components: NAMES.map((name, i) => ({
      ...{ id: i === 2 ? WORD.slice(0, 40) : `c${i}`, name, pricePerGram: 1250000.5 * i },
      ...(i === 5 ? { low: 0.0004, high: 0.02, stocks: [1] } : { low: 0.05, high: 0.6 }),
    })),
    settings: [{ id: 'dose', name: `Dose, ${LONG}`, unit: 'mL/L', low: 0.17, high: 0.33 }],
    batch: { grams: GRAMS, readability: 0.001 },
    attributes: QUESTIONS.map((name, i) => ({
      ...{ id: `q${i}`, name, scale: name === 'Fine' ? [0, FINE] : [0, 100] },
      ...{ target: name === 'Fine' ? FINE / 2 : i === 3 ? 'least' : 50 },
    })),
    asides: [{ id: 'notes', name: 'What else?', form: 'describe', words: ['soap', WORD] }],
    panel: { assessors: 6, cupsPerSitting: 8 },
    concentrate: { carrier: 'ethanol-96', percentVol: 76, fillMillilitres: 25 },
    drink: { name: `Tonic ${LONG}`, cupMillilitres: 30, dosePerLitre: { setting: 'dose' } },
    caps: { costPerLitre: 2500000 },
    cautions: [{ to: 'taster', text: `${WORD} ${LONG}` }],
  });
}

/** A trial of such names, weighed and tasted once, its key open, with a sitting that is drawn and not tasted. */
export function hardTrial(context: Context): { trial: string; sitting: string; token: string } {
  const brief = hardBrief();
  const { trial } = createTrial(context, brief);
  const mixes = MIXES.map((mix, m) => {
    const steps = brief.components.map((_, i) => (i === 5 ? 20 + 90 * m : 2500 + 1500 * ((m * (i + 2)) % 5)));
    steps[0]! += GRAMS * 1000 - steps.reduce((sum, step) => sum + step, 0);
    const grams = Object.fromEntries(brief.components.map(({ id }, i) => [id, steps[i]! / 1000]));
    const ratios = Object.fromEntries(Object.entries(grams).map(([id, mass]) => [id, mass / GRAMS]));
    const planned = { ratios, grams, settings: { dose: 0.17 + 0.02 * m } };
    return { mix, blend: mix, repeats: null, again: false, planned, why: LONG };
  });
  makeRound(context, trial, { mixes, reading: null, restHours: 0 });
  for (const { mix, planned } of mixes)
    weighMix(context, { trial, round: 1, mix }, { grams: planned.grams, note: LONG });
  const assessors = Array.from({ length: 6 }, (_, i) => `P${i + 1}`);
  const request = { assessors, mixes: MIXES, reference: false };
  const at = { trial, round: 1 };
  const { sitting } = drawSitting(context, at, SittingRequest.parse({ ...request, label: LONG }));
  const place = { trial, sitting };
  openSitting(context, place);
  assessors.forEach((assessor, who) => {
    const seat = { ...place, assessor };
    const answers = context.store.sittings.cupsOf(seat).flatMap(({ code, mix }, cup) =>
      brief.attributes.flatMap(({ id, name, scale }, q) => {
        if (name === 'Silent') return [];
        const value = scale[1] * (0.2 + 0.08 * ((3 * MIXES.indexOf(mix) + 5 * who + 7 * q) % 8));
        const message = { id: messageId([sitting, assessor, code, id]), code, question: id, value };
        return [{ ...message, phone: messageId([assessor]), count: 10 * cup + q }];
      }),
    );
    takeAnswers(context, seat, answers);
  });
  closeSitting(context, place);
  openKey(context, place, LONG);
  const drawn = drawSitting(context, at, SittingRequest.parse({ ...request, label: WORD }));
  openSitting(context, { trial, sitting: drawn.sitting });
  const lot = { material: 'ethanol-96', label: `${LONG} A`, grams: 0.0004, note: WORD };
  addLot(context, NewLot.parse(lot));
  return { trial, sitting: drawn.sitting, token: drawn.tokens[0]!.token };
}
