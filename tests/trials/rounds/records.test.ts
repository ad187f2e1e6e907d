import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { demoRoundOne } from '../../../trials/demo/demo-round-one.ts';
import { loadDemo, simulateAnswers } from '../../../trials/rounds/demo-trial.ts';
import { drawSitting } from '../../../trials/rounds/draw-sitting.ts';
import { gather } from '../../../trials/rounds/gather.ts';
import {
  assignNext,
  assignPlan,
  assignPrediction,
  assignReading,
  readReading,
  storeReading,
} from '../../../trials/rounds/readings.ts';
import { closeSitting, openKey, openSitting } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { eraseTaster, exportTaster } from '../../../trials/rounds/taster-data.ts';
import { exportTrial, importTrial } from '../../../trials/rounds/transfer.ts';
import { trialView } from '../../../trials/rounds/trial-view.ts';
import { SittingRequest } from '../../../trials/schema/api.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { drawnTrial, smallBrief } from '../../support/small-trial.ts';
import { contextOf, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData();
const context = contextOf(store);

/** A tasted trial: Ann answered everything, Bob one question, the key is open. */
function tastedTrial({
  why = 'all in',
  early = false,
  ...given
}: Partial<SittingRequest> & { why?: string; early?: boolean } = {}) {
  const { trial, sitting } = drawnTrial(context, given);
  const place = { trial, sitting };
  openSitting(context, place);
  for (const { assessor, code, position } of store.sittings.cups(trial, sitting)) {
    if (assessor === 'Bob' && position > 1) continue;
    const message = { code, phone: messageId([assessor]), count: position };
    const bitter = { ...message, id: messageId([code, 'b']), question: 'bitter', value: 10 * position };
    const liking = { ...message, id: messageId([code, 'l']), question: 'liking', value: 5 };
    takeAnswers(context, { ...place, assessor }, assessor === 'Bob' ? [bitter] : [bitter, liking]);
  }
  if (!early) closeSitting(context, place);
  openKey(context, place, why);
  return place;
}

describe('the demo', () => {
  test('stands as its notes tell it: as weighed, four sittings of six tasters, keys opened', () => {
    const { brief, roundViews, stands } = trialView(context, 'demo');
    const { mixes, servings, warnings } = gather(store, 'demo', brief);
    const round = demoRoundOne();
    expect(mixes.map(({ mix }) => mix)).toEqual(round.mixes.map(({ mix }) => mix));
    for (const { mix, weighed, dose } of round.mixes) {
      const total = Object.values(weighed).reduce((sum, g) => sum + g, 0);
      const found = mixes.find((one) => one.mix === mix)!;
      expect(found.settings).toEqual([dose]);
      brief.components.forEach(({ id }, i) => {
        expect(Math.abs(found.shares[i]! - weighed[id]! / total)).toBeLessThan(1e-12);
      });
    }
    const cups = servings.map((s) => [s.session, s.assessor, s.position, s.mix, ...s.scores]);
    const told = round.scores.map((s) => [
      s.session,
      s.assessor,
      s.position,
      s.mix,
      ...brief.attributes.map(({ id }) => s.scores[id]),
    ]);
    expect(cups.sort()).toEqual(told.sort());
    expect(warnings).toEqual([]);
    expect(roundViews[0]!.sittings.map(({ state, key }) => [state, key])).toEqual(
      Array(4).fill(['closed', 'opened']),
    );
    expect(stands).toBe('Round 1: The keys are open: read the scores.');
    expect(store.acts.list('demo').filter(({ act }) => act === 'opened the key: demo').length).toBe(4);
  });

  test('is loaded once', () => {
    const before = store.documents.write('demo');
    loadDemo(context);
    expect(store.documents.write('demo')).toEqual(before);
  });

  test('its invented tasters answer an open sitting, each once, and nobody else’s', () => {
    const request = SittingRequest.parse({
      label: 'Friday',
      assessors: ['P1', 'P5', 'Ann'],
      mixes: ['m1', 'm5'],
    });
    const { sitting } = drawSitting(context, { trial: 'demo', round: 1 }, request);
    const place = { trial: 'demo', sitting };
    expect(refusalOf(() => simulateAnswers(context, place)).code).toBe('conflict');
    openSitting(context, place);
    expect(simulateAnswers(context, place)).toMatchObject({ answers: 2 * 3 * 6, answersExpected: 3 * 3 * 6 });
    expect(refusalOf(() => simulateAnswers(context, place)).message).toContain('no invented taster');
    const real = drawnTrial(context);
    openSitting(context, real);
    expect(refusalOf(() => simulateAnswers(context, real)).message).toContain('only the demo');
  });
});

describe('what is read', () => {
  test('is every mix as weighed and every answered cup of opened sittings, the warm-up left out', () => {
    const { trial } = tastedTrial({ warmup: true, knowing: ['Bob'] });
    const gathered = gather(store, trial, smallBrief());
    expect(gathered.mixes[0]).toEqual({
      mix: 'qa1',
      blend: 'qa1',
      shares: [0.5, 0.25, 0.25],
      settings: [0.3],
      round: '1',
    });
    expect(gathered.servings.map(({ assessor }) => assessor)).toEqual(['Ann', 'Ann', 'Ann', 'Ann']);
    expect(gathered.servings.map(({ scores }) => scores)).toEqual([20, 30, 40, 50].map((b) => [b, 5]));
    expect(gathered.knowing).toEqual(['Bob']);
    const next = drawSitting(
      context,
      { trial, round: 1 },
      SittingRequest.parse({ label: 'Later', assessors: ['Ann'], mixes: ['qa1'] }),
    );
    openSitting(context, { trial, sitting: next.sitting });
    expect(gather(store, trial, smallBrief()).warnings).toEqual([
      'Later: the key is sealed, so its scores are not read',
    ]);
  });

  test('leaves late answers out and says so with the reason the key was opened', () => {
    const place = tastedTrial();
    const { code } = store.sittings.cupsOf({ ...place, assessor: 'Bob' }).slice(-1)[0]!;
    const late = {
      id: messageId(['late']),
      code,
      question: 'bitter',
      value: 1,
      phone: messageId(['x']),
      count: 1,
    };
    takeAnswers(context, { ...place, assessor: 'Bob' }, [late]);
    const { servings, warnings } = gather(store, place.trial, smallBrief());
    expect(servings.length).toBe(5);
    expect(warnings).toEqual(['Tuesday: 1 answer came after the key was opened (all in) and are not read']);
  });

  test('says where a key was opened while people tasted, and why', () => {
    const place = tastedTrial({ early: true, why: 'a cup was spilt' });
    const says = ['Tuesday: the key was opened before the tasting had ended (a cup was spilt)'];
    expect(gather(store, place.trial, smallBrief()).warnings).toEqual(says);
    closeSitting(context, place);
    expect(gather(store, place.trial, smallBrief()).warnings).toEqual(says);
    expect(assignReading(context, place.trial, []).input).toMatchObject({ warnings: says });
  });

  test('is put together with its seed for each kind of computation', () => {
    const { trial } = tastedTrial();
    const plan = assignPlan(context, trial, { mixes: 6, seed: 9 });
    expect(plan).toMatchObject({ kind: 'plan', round: null, seed: 9, input: { options: { mixes: 6 } } });
    expect((plan.input as { already: unknown[] }).already.length).toBe(3);
    expect(assignReading(context, trial, ['Bob'])).toMatchObject({
      kind: 'read',
      round: 1,
      seed: 1,
      input: { setAside: ['Bob'] },
    });
    expect(assignNext(context, trial, { count: 2, setAside: [] })).toMatchObject({
      kind: 'next',
      input: { options: { count: 2 } },
    });
    expect(refusalOf(() => assignReading(context, trial, ['Eve'])).faults[0]!.where).toBe('setAside');
    expect(refusalOf(() => assignReading(context, trial, ['Ann', 'Bob'])).faults[0]!.allowed).toContain(
      'at least one',
    );
    const rows = [{ ratios: { gin: 1 }, settings: {} }];
    expect(refusalOf(() => assignPrediction(context, trial, { rows, setAside: [] })).faults[0]!.where).toBe(
      'rows[0].ratios',
    );
    const untasted = drawnTrial(context);
    expect(refusalOf(() => assignReading(context, untasted.trial, [])).code).toBe('conflict');
  });

  test('is stored with input, seed and version, and makes the round read', () => {
    const { trial } = tastedTrial();
    const assignment = assignReading(context, trial, []);
    const result = { panel: { x: 0.1 + 0.2 }, fit: null };
    const name = storeReading(context, assignment, result);
    expect(name).toBe('read-1');
    const stored = readReading(context, trial, name);
    expect(JSON.stringify(stored.input)).toBe(JSON.stringify(assignment.input));
    expect(JSON.stringify(stored.result)).toBe(JSON.stringify(result));
    expect(stored).toMatchObject({
      seed: 1,
      kind: 'read',
      round: 1,
      version: expect.stringMatching(/^\d+\.\d+\.\d+/),
    });
    const view = trialView(context, trial);
    expect(view.roundViews[0]!.state).toBe('read');
    expect(view.stands).toBe('Round 1 is read: ask for the next mixes.');
    expect(view.readings.map(({ reading }) => reading)).toEqual(['read-1']);
    expect(refusalOf(() => readReading(context, trial, 'read-2')).code).toBe('not-found');
  });
});

describe('a whole trial as one document', () => {
  test('comes back the same, and goes out again the same', () => {
    const { trial } = tastedTrial();
    storeReading(context, assignReading(context, trial, []), { a: 1 / 3 });
    const out = JSON.stringify(exportTrial(context, trial));
    const other = storeWithData({ demo: false });
    const view = importTrial(contextOf(other), JSON.parse(out));
    expect(view.trial).toBe(trial);
    expect(JSON.stringify(exportTrial(contextOf(other), trial))).toBe(out);
    expect(gather(other, trial, smallBrief())).toEqual(gather(store, trial, smallBrief()));
    expect(assignReading(contextOf(other), trial, [])).toEqual(assignReading(context, trial, []));
  });

  test('beside the original gets an id of its own and the same contents', () => {
    const view = importTrial(context, JSON.parse(JSON.stringify(exportTrial(context, 'demo'))));
    expect(view.trial).not.toBe('demo');
    const strip = (trial: string) =>
      JSON.stringify(exportTrial(context, trial)).replaceAll(`"trial":"${trial}"`, '');
    expect(strip(view.trial)).toBe(strip('demo'));
  });

  test('that is something else, or does not hold together, adds nothing', () => {
    const before = store.trials.list().length;
    const whole = () => JSON.parse(JSON.stringify(exportTrial(context, 'demo')));
    const change = (act: (document: ReturnType<typeof whole>) => void) => {
      const document = whole();
      act(document);
      return document;
    };
    const documents = [
      null,
      {},
      { format: 'trial/2', tables: whole().tables },
      change((d) => delete d.tables.cups),
      change((d) => d.tables.trials.push(d.tables.trials[0])),
      change((d) => {
        d.tables.briefs[0].brief = '{"format":"brief/1"}';
      }),
      change((d) => {
        d.tables.cups[0].code = '7';
      }),
      change((d) => {
        d.tables.answers[0].code = '999';
      }),
      change((d) => {
        d.tables.answers[0].value = 'many';
      }),
      change((d) => {
        d.tables.mixes[0].planned = 'not json';
      }),
      change((d) => {
        d.tables.briefs.length = 0;
      }),
    ];
    for (const document of documents)
      expect(['bad-input', 'conflict', 'not-found']).toContain(
        refusalOf(() => importTrial(context, document)).code,
      );
    expect(store.trials.list().length).toBe(before);
  });
});

describe('a taster', () => {
  test('is told all that is kept, and never what was in a sealed cup', () => {
    const place = tastedTrial();
    const sealed = drawSitting(
      context,
      { trial: place.trial, round: 1 },
      SittingRequest.parse({ label: 'Two', assessors: ['Bob'], mixes: ['qa1'] }),
    );
    expect(sealed.sitting).toBe('s2');
    const told = exportTaster(context, place.trial, 'Bob') as {
      seats: { cups: object[]; answers: object[] }[];
    };
    expect(told.seats.map(({ cups, answers }) => [cups.length, answers.length])).toEqual([
      [4, 1],
      [2, 0],
    ]);
    expect(Object.keys(told.seats[0]!.cups[0]!)).toContain('mix');
    expect(Object.keys(told.seats[1]!.cups[0]!)).not.toContain('mix');
    expect(refusalOf(() => exportTaster(context, place.trial, 'Nobody')).code).toBe('not-found');
  });

  test('whose name is erased leaves scores under a number, and the name nowhere in the file', async () => {
    const name = 'Wilhelmina Zzyzx';
    const place = tastedTrial({
      label: `at ${name}`,
      assessors: ['Ann', name],
      knowing: [name],
      why: `${name} left`,
    });
    const { trial } = place;
    const { code } = store.sittings.cupsOf({ ...place, assessor: name })[0]!;
    storeReading(context, assignReading(context, trial, []), {
      assessors: [{ assessor: name }],
      says: `${name} is unlike the others`,
      mix: 'Wilhelmina',
    });
    const before = gather(store, trial, smallBrief());
    const erased = eraseTaster(context, trial, name);
    expect(erased).toEqual({ name: 'P1', backups: [], alsoIn: [] });
    expect(store.sittings.cupsOf({ ...place, assessor: 'P1' })[0]!.code).toBe(code);
    const after = JSON.stringify(gather(store, trial, smallBrief()));
    expect(after).toBe(JSON.stringify(before).replaceAll(name, 'P1'));
    expect(readReading(context, trial, 'read-1').result).toEqual({
      assessors: [{ assessor: 'P1' }],
      says: 'P1 is unlike the others',
      mix: 'Wilhelmina',
    });
    store.pragma('wal_checkpoint(TRUNCATE)');
    for (const end of ['', '-wal']) expect(readFileSync(store.file + end).includes('Zzyzx')).toBe(false);
    expect(() => store.documents.write(trial)).not.toThrow();
    expect(store.pragma('foreign_keys')).toBe(1);
    expect(store.acts.list(trial).at(-1)!.act).toBe('erased a name');
  });

  test('who bears the name of a component takes nothing of the formula along', () => {
    const place = tastedTrial({ assessors: ['limeOil', 'Bob'] });
    const { trial } = place;
    const result = {
      ratios: { limeOil: 0.25 },
      scores: { limeOil: 3 },
      assessor: 'limeOil',
      component: 'limeOil',
    };
    storeReading(context, assignReading(context, trial, []), result);
    const brief = () => store.trials.latestBrief(trial)!.brief;
    const before = brief();
    tastedTrial({ assessors: ['limeOil'] });
    expect(eraseTaster(context, trial, 'limeOil')).toMatchObject({ name: 'P1', alsoIn: ['Pith and pepper'] });
    expect(brief()).toEqual(before);
    expect(readReading(context, trial, 'read-1').result).toEqual({ ...result, assessor: 'P1' });
    expect(gather(store, trial, smallBrief()).servings.map(({ assessor }) => assessor)).toContain('P1');
  });
});
