import { expect, test } from 'vitest';
import { REFERENCE } from '../../../engine/panel/observations.ts';
import { readPanel } from '../../../engine/panel/read-panel.ts';
import type { Context } from '../../../trials/rounds/context.ts';
import { drawSitting } from '../../../trials/rounds/draw-sitting.ts';
import { gather } from '../../../trials/rounds/gather.ts';
import { closeSitting, openKey, openSitting } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { trialTables } from '../../../trials/rounds/trial-tables.ts';
import { weighMix } from '../../../trials/rounds/weigh-mix.ts';
import { toAttributes } from '../../../trials/schema/engine-shapes.ts';
import { sittingRequest, smallBrief, smallMixes, weighedTrial } from '../../support/small-trial.ts';
import { contextOf, NOON, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const later = (hours: number): Context => ({
  ...contextOf(store),
  now: () => new Date(NOON.getTime() + hours * 3_600_000),
});

/** Draws, opens, answers and closes a sitting so many hours after noon. */
function tasted(trial: string, label: string, hours: number) {
  const context = later(hours);
  const { sitting } = drawSitting(context, { trial, round: 1 }, sittingRequest({ label }));
  const place = { trial, sitting };
  openSitting(context, place);
  for (const { assessor, code, position } of store.sittings.cups(trial, sitting)) {
    const message = { code, phone: messageId([assessor]), count: position };
    takeAnswers(context, { ...place, assessor }, [
      { ...message, id: messageId([code, sitting]), question: 'bitter', value: 10 * position + hours / 10 },
    ]);
  }
  closeSitting(context, place);
  openKey(context, place, 'all in');
}

test('cups carry how long their bottle had stood, and files take it along where a mix was tasted at two ages', () => {
  const trial = weighedTrial(later(0));
  tasted(trial, 'Tuesday', 24);
  const once = gather(store, trial, smallBrief()).servings.filter(({ mix }) => mix !== REFERENCE);
  expect(new Set(once.map(({ hours }) => hours))).toEqual(new Set([24]));
  const scores = () => trialTables(store, trial).find(({ name }) => name === 'scores.csv')!.text;
  expect(scores().split('\r\n')[0]).not.toContain('hours');
  tasted(trial, 'Thursday', 72);
  // A mass put right after it was tasted makes no bottle younger.
  weighMix(
    later(80),
    { trial, round: 1, mix: 'qa1' },
    { grams: smallMixes()[0]!.planned.grams, note: 'typed wrong' },
  );
  const { servings } = gather(store, trial, smallBrief());
  const aged = servings.filter(({ mix }) => mix !== REFERENCE);
  expect(aged.length).toBeLessThan(servings.length);
  expect(new Set(aged.map(({ session, hours }) => `${session} ${hours}`))).toEqual(
    new Set(['Tuesday 24', 'Thursday 72']),
  );
  const [head, first] = scores().split(/\r?\n/);
  expect(head).toBe('mix,assessor,session,replicate,position,bitter,liking,hours');
  expect(first).toMatch(/,24$|^reference.*,$/);
  // The reference was poured in both sittings and does not age: without it age went with the sittings.
  const reading = readPanel({ servings, attributes: toAttributes(smallBrief()) });
  expect(reading.attributes.map(({ age }) => age?.status)).toEqual(['counted', undefined]);
  const without = readPanel({ servings: aged, attributes: toAttributes(smallBrief()) });
  expect(without.age!.status).toBe('with-sessions');
  expect(without.attributes[0]).not.toHaveProperty('age');
});
