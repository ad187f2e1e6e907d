import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { ladderThreshold } from '../../../engine/design/dose-ladder.ts';
import { readLadder } from '../../../trials/files/read-ladder.ts';
import { changeBrief, createTrial } from '../../../trials/rounds/create-trial.ts';
import { drawLadderTrays } from '../../../trials/rounds/draw-ladder.ts';
import { ladderView, ladderViews } from '../../../trials/rounds/ladder-view.ts';
import { answerLadder, drawLadder, putLadderAway, takeOverLadder } from '../../../trials/rounds/ladders.ts';
import { eraseTaster, exportTaster } from '../../../trials/rounds/taster-data.ts';
import { exportTrial, importTrial } from '../../../trials/rounds/transfer.ts';
import { trialTables } from '../../../trials/rounds/trial-tables.ts';
import type { LadderView } from '../../../trials/schema/api.ts';
import { DATA_FILE, openStore } from '../../../trials/store/store.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { plannedTrial, smallBrief } from '../../support/small-trial.ts';
import { contextOf, freshFolder, NOON, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);
const REQUEST = { component: 'limeOil', concentrations: [1, 2, 4, 8], tasters: ['Ann', 'Bob'] };

/** A trial with one drawn ladder. */
function laddered(tasters = REQUEST.tasters) {
  const trial = plannedTrial(context);
  const { ladder } = drawLadder(context, trial, { ...REQUEST, tasters });
  return { trial, ladder };
}

/** What a taster says on each rung: the odd cup where it is found, else another of the three. */
function said({ trays }: LadderView, taster: string, found: readonly boolean[]) {
  const { threes } = trays.find((tray) => tray.taster === taster)!;
  return found.map((right, k) => {
    const { codes, odd } = threes[k]!;
    return { taster, rung: k + 1, code: right ? odd : codes.find((code) => code !== odd)! };
  });
}

const actsOf = (trial: string) =>
  store.acts
    .list(trial)
    .filter(({ act }) => act.includes('ladder'))
    .map(({ act, detail }) => `${act}: ${detail}`);

describe('the cups', () => {
  const tasters = Array.from({ length: 30 }, (_, k) => `P${k + 1}`);
  const trays = drawLadderTrays(6, tasters, 7);

  test('have three codes a rung, none twice for a taster, one of them odd; the same seed draws the same', () => {
    for (const { threes } of trays) {
      const codes = threes.flatMap((three) => three.codes);
      expect(new Set(codes).size).toBe(18);
      expect(codes.every((code) => /^[1-9]\d\d$/.test(code))).toBe(true);
      expect(threes.every(({ codes: own, odd }) => own.includes(odd))).toBe(true);
    }
    expect(drawLadderTrays(6, tasters, 7)).toEqual(trays);
    expect(drawLadderTrays(6, tasters, 8)).not.toEqual(trays);
  });

  test('hold the odd one in every place about as often', () => {
    const places = [0, 0, 0];
    for (const { threes } of trays) for (const { codes, odd } of threes) places[codes.indexOf(odd)]! += 1;
    // 180 threes with this seed: 60 each, give or take three standard deviations of 6.3.
    for (const often of places) expect(Math.abs(often - 60)).toBeLessThan(19);
  });

  test('are kept with the seed that drew them', () => {
    const { trial, ladder } = laddered();
    const { seed } = store.ladders.list(trial)[0]!;
    expect(store.ladders.trays(trial, ladder)).toEqual(drawLadderTrays(4, REQUEST.tasters, seed!));
  });

  test('are drawn for a component of the brief alone', () => {
    const trial = plannedTrial(context);
    expect(
      refusalOf(() => drawLadder(context, trial, { ...REQUEST, component: 'rum' })).faults[0],
    ).toMatchObject({
      where: 'component',
      allowed: 'peelOil, limeOil, woodOil',
    });
    expect(ladderViews(store, trial)).toEqual([]);
    expect(actsOf(trial)).toEqual([]);
  });
});

describe('answers on a ladder', () => {
  test('are on disk when they are acknowledged, every one of them; the last one counts', () => {
    const folder = freshFolder();
    const first = openStore(folder);
    const own = contextOf(first);
    const trial = plannedTrial(own);
    const drawn = drawLadder(own, trial, REQUEST);
    const place = { trial, ladder: drawn.ladder };
    const [one, two] = said(drawn, 'Ann', [true, false]);
    answerLadder(own, place, { answers: [one!, two!] });
    answerLadder(own, place, { answers: [{ ...one!, code: null }] });
    const told = ladderView(first, trial, drawn.ladder);
    expect(told.trays.map(({ named }) => named)).toEqual([
      [null, two!.code, null, null],
      [null, null, null, null],
    ]);
    first.close();
    const again = openStore(folder);
    expect(ladderView(again, trial, drawn.ladder)).toEqual(told);
    expect(again.ladders.answers(trial, drawn.ladder).map(({ rung, code }) => [rung, code])).toEqual([
      [1, one!.code],
      [2, two!.code],
      [1, null],
    ]);
    again.close();
  });

  test('go into the ledger once for a taster, and with what they were where they are changed', () => {
    const { trial, ladder } = laddered();
    const view = ladderView(store, trial, ladder);
    const place = { trial, ladder };
    const found = said(view, 'Ann', [true, true, true, true]);
    for (const answer of found) answerLadder(context, place, { answers: [answer] });
    const other = view.trays[0]!.threes[1]!.codes.find((code) => code !== found[1]!.code)!;
    answerLadder(context, place, { answers: [{ ...found[1]!, code: other }] });
    answerLadder(context, place, { answers: [{ ...found[1]!, code: other }] });
    answerLadder(context, place, { answers: [{ ...found[0]!, code: null }] });
    expect(actsOf(trial)).toEqual([
      'drew a ladder of doses: ladder 1: limeOil, 1, 2, 4, 8 mg a litre, for "Ann", "Bob"',
      'entered the answers on a ladder of doses: of "Ann" on ladder 1, 4 rungs',
      `changed answers on a ladder of doses: of "Ann" on ladder 1: rung 2, ${other} instead of ${found[1]!.code}`,
      `changed answers on a ladder of doses: of "Ann" on ladder 1: rung 1, ${found[0]!.code} taken back`,
    ]);
  });

  test('that fit no cup, rung or taster are refused with their place, and nothing of the lot is kept', () => {
    const { trial, ladder } = laddered();
    const view = ladderView(store, trial, ladder);
    const [good] = said(view, 'Ann', [true]);
    const elsewhere = view.trays[0]!.threes[1]!.odd;
    const bad = [
      [{ taster: 'Ann', rung: 1, code: elsewhere }, 'answers[1].code'],
      [{ taster: 'Ann', rung: 5, code: null }, 'answers[1].rung'],
      [{ taster: 'Cyd', rung: 1, code: null }, 'answers[1].taster'],
      [{ taster: 'constructor', rung: 1, code: null }, 'answers[1].taster'],
    ] as const;
    for (const [answer, where] of bad)
      expect(
        refusalOf(() => answerLadder(context, { trial, ladder }, { answers: [good!, answer] })).faults[0],
      ).toMatchObject({ where });
    expect(ladderView(store, trial, ladder)).toEqual(view);
    expect(refusalOf(() => answerLadder(context, { trial, ladder: 2 }, { answers: [good!] })).code).toBe(
      'not-found',
    );
  });

  test('can only be added to, after an erasure too', () => {
    const { trial, ladder } = laddered();
    answerLadder(
      context,
      { trial, ladder },
      { answers: said(ladderView(store, trial, ladder), 'Ann', [true]) },
    );
    store.eraseName(trial, 'Ann', 'P9');
    const db = new Database(store.file);
    for (const change of ['UPDATE ladder_answers SET code = NULL', 'DELETE FROM ladder_answers'])
      expect(() => db.exec(change)).toThrow('ladder_answers are only ever added to');
    db.close();
  });
});

describe('another ladder', () => {
  test('leaves those before it as they are, and what is put away comes back whole', () => {
    const { trial, ladder } = laddered();
    answerLadder(
      context,
      { trial, ladder },
      { answers: said(ladderView(store, trial, ladder), 'Bob', [false, true, true, true]) },
    );
    const before = ladderView(store, trial, ladder);
    drawLadder(context, trial, { ...REQUEST, component: 'woodOil', tasters: ['Cyd'] });
    expect(ladderViews(store, trial).map(({ component }) => component)).toEqual(['limeOil', 'woodOil']);
    const away = putLadderAway(context, { trial, ladder }, true);
    expect(away.away).not.toBeNull();
    expect(
      refusalOf(() => answerLadder(context, { trial, ladder }, { answers: said(before, 'Ann', [true]) }))
        .code,
    ).toBe('conflict');
    putLadderAway(context, { trial, ladder }, true);
    expect(putLadderAway(context, { trial, ladder }, false)).toEqual(before);
    expect(actsOf(trial).slice(-2)).toEqual([
      'put a ladder of doses away: ladder 1',
      'brought a ladder of doses back: ladder 1',
    ]);
  });

  test('stays readable when the brief no longer holds its component', () => {
    const brief = smallBrief();
    const { trial } = createTrial(context, brief);
    const view = drawLadder(context, trial, REQUEST);
    changeBrief(context, trial, {
      ...brief,
      components: brief.components.filter(({ id }) => id !== 'limeOil'),
    });
    expect(ladderViews(store, trial)).toEqual([view]);
  });
});

describe('a ladder that a browser kept', () => {
  const drawn = drawLadderTrays(4, ['Ann', 'Bob'], 3);
  const kept = {
    component: 'limeOil',
    concentrations: [1, 2, 4, 8],
    trays: drawn.map(({ assessor, threes }, t) => ({
      taster: assessor,
      threes,
      named: threes.map(({ odd }) => (t === 0 ? odd : null)),
    })),
  };

  test('is taken in once, with its answers; what was answered since stays', () => {
    const trial = plannedTrial(context);
    const first = takeOverLadder(context, trial, kept);
    expect(first.trays).toEqual(kept.trays);
    const since = said(first, 'Bob', [true, true, true, true]);
    const after = answerLadder(context, { trial, ladder: first.ladder }, { answers: since });
    expect(takeOverLadder(context, trial, kept)).toEqual(after);
    putLadderAway(context, { trial, ladder: first.ladder }, true);
    expect(takeOverLadder(context, trial, kept).ladder).toBe(1);
    expect(ladderViews(store, trial)).toHaveLength(1);
    expect(actsOf(trial).filter((told) => told.startsWith('took over'))).toEqual([
      'took over a ladder of doses that a browser kept: ladder 1: limeOil, 1, 2, 4, 8 mg a litre, for "Ann", "Bob"; 4 answers',
    ]);
  });
});

describe('what leaves and comes back', () => {
  const whole = [
    [false, true, true, true],
    [true, false, true, true],
  ];
  function answered() {
    const place = laddered();
    const view = ladderView(store, place.trial, place.ladder);
    const answers = REQUEST.tasters.flatMap((taster, t) => said(view, taster, whole[t]!));
    answerLadder(context, place, { answers });
    return place;
  }

  test('the whole trial as a document holds its ladders and every answer, and gives them back the same', () => {
    const { trial, ladder } = answered();
    const view = ladderView(store, trial, ladder);
    answerLadder(context, { trial, ladder }, { answers: said(view, 'Ann', [true]) });
    putLadderAway(context, { trial, ladder }, true);
    const out = JSON.stringify(exportTrial(context, trial));
    const other = storeWithData({ demo: false });
    importTrial(contextOf(other), JSON.parse(out));
    expect(JSON.stringify(exportTrial(contextOf(other), trial))).toBe(out);
    expect(ladderViews(other, trial)).toEqual(ladderViews(store, trial));
    expect(other.ladders.answers(trial, ladder)).toHaveLength(9);
  });

  test('a document from before there were ladders comes in without any', () => {
    const { trial } = answered();
    const document = JSON.parse(JSON.stringify(exportTrial(context, trial)));
    for (const table of ['ladders', 'ladder_trays', 'ladder_answers']) delete document.tables[table];
    const other = storeWithData({ demo: false });
    importTrial(contextOf(other), document);
    expect(ladderViews(other, trial)).toEqual([]);
  });

  test('a document whose ladder does not hold together adds nothing', () => {
    const { trial } = answered();
    // biome-ignore lint/suspicious/noExplicitAny: a document that is being broken
    const broken: ((tables: any) => void)[] = [
      (t) => (t.ladders[0].concentrations = '[4, 2, 1]'),
      (t) => (t.ladders[0].concentrations = '7'),
      (t) => (t.ladder_trays[0].threes = '[]'),
      (t) => (t.ladder_trays[0].threes = '{"odd": 3}'),
      (t) => (t.ladder_trays[0].threes = t.ladder_trays[0].threes.replace(/"odd":"\d+"/, '"odd":"99"')),
      (t) => (t.ladder_answers[0].rung = 9),
      (t) => (t.ladder_answers[0].code = '12'),
      (t) => (t.ladder_answers[0].assessor = 'Cyd'),
    ];
    const other = storeWithData({ demo: false });
    for (const breaks of broken) {
      const document = JSON.parse(JSON.stringify(exportTrial(context, trial)));
      breaks(document.tables);
      expect(['bad-input', 'conflict']).toContain(
        refusalOf(() => importTrial(contextOf(other), document)).code,
      );
    }
    expect(other.trials.list()).toEqual([]);
  });

  test('its table is read by the command’s reader and gives the threshold that the answers give', () => {
    const { trial, ladder } = answered();
    drawLadder(context, trial, REQUEST);
    const files = trialTables(store, trial).filter(({ name }) => name.startsWith('ladder'));
    expect(files.map(({ name }) => name)).toEqual(['ladder-1-limeOil.csv']);
    const { concentrations, answers } = readLadder(files[0]!.text, 'ladder.csv');
    expect(answers).toEqual([
      { assessor: 'Ann', correct: whole[0] },
      { assessor: 'Bob', correct: whole[1] },
    ]);
    // Ann missed 1, found 2: √2; Bob missed 2, found 4: √8; the group's geometric mean is 2.
    expect(ladderThreshold(concentrations, answers).threshold).toBeCloseTo(2, 12);
    putLadderAway(context, { trial, ladder }, true);
    expect(trialTables(store, trial).some(({ name }) => name.startsWith('ladder'))).toBe(false);
  });

  test('a copy of the data holds them, and gives them back', async () => {
    const { trial } = answered();
    const before = ladderViews(store, trial);
    const { name } = await store.copies.keep('backup', NOON);
    drawLadder(context, trial, REQUEST);
    const folder = freshFolder();
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, DATA_FILE), readFileSync(store.copies.find(name)!));
    const copy = openStore(folder);
    expect(ladderViews(copy, trial)).toEqual(before);
    copy.close();
    await store.copies.putBack(store.copies.find(name)!, NOON);
    expect(ladderViews(store, trial)).toEqual(before);
  });
});

describe('a taster of a ladder alone', () => {
  test('is told what is kept, not which cup was odd, and can have the name taken out', () => {
    const name = 'Wilhelmina Qqwyx';
    const { trial, ladder } = laddered(['P1', name]);
    const view = ladderView(store, trial, ladder);
    const place = { trial, ladder };
    answerLadder(context, place, { answers: said(view, name, [true, false, true, true]) });
    const { ladders, seats } = exportTaster(context, trial, name) as {
      ladders: { cups: unknown[]; answers: unknown[] }[];
      seats: unknown[];
    };
    expect([seats.length, ladders.length, ladders[0]!.cups.length, ladders[0]!.answers.length]).toEqual([
      0, 1, 4, 4,
    ]);
    expect(JSON.stringify(ladders)).not.toContain('odd');
    // P1 sits at this ladder already, so the name becomes the next number.
    expect(eraseTaster(context, trial, name).name).toBe('P2');
    expect(JSON.stringify(ladderView(store, trial, ladder))).toBe(
      JSON.stringify(answeredBy(name)).replace(name, 'P2'),
    );
    store.pragma('wal_checkpoint(TRUNCATE)');
    for (const end of ['', '-wal']) expect(readFileSync(store.file + end).includes('Qqwyx')).toBe(false);
    expect(store.acts.list(trial).at(-1)!.detail).toBe(
      'a taster of 0 sittings and 1 ladder of doses is now "P2"',
    );
    expect(refusalOf(() => exportTaster(context, trial, name)).code).toBe('not-found');

    function answeredBy(taster: string): LadderView {
      const named = said(view, taster, [true, false, true, true]).map(({ code }) => code);
      return {
        ...view,
        trays: view.trays.map((tray) => (tray.taster === taster ? { ...tray, named } : tray)),
      };
    }
  });
});
