import { describe, expect, test } from 'vitest';
import { markAbsent, redrawOrders } from '../../../trials/rounds/absence.ts';
import { addTaster } from '../../../trials/rounds/add-taster.ts';
import { ballotView } from '../../../trials/rounds/ballot-view.ts';
import { liveView } from '../../../trials/rounds/live.ts';
import { nameCups } from '../../../trials/rounds/name-cups.ts';
import { pouringSheet } from '../../../trials/rounds/pouring-sheet.ts';
import { closeSitting, openKey, openSitting } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import type { SittingRequest } from '../../../trials/schema/api.ts';
import { refusalOf } from '../../support/refusal-of.ts';
import { drawnTrial } from '../../support/small-trial.ts';
import { contextOf, NOON, storeWithData } from '../../support/trial-folder.ts';

const store = storeWithData({ demo: false });
const context = contextOf(store);

const mixesOf = (place: { trial: string; sitting: string }, assessor: string) =>
  store.sittings.cupsOf({ ...place, assessor }).map(({ mix }) => mix);

describe('one person alone', () => {
  const drawn = (given: Partial<SittingRequest> = {}) => {
    const { trial, sitting } = drawnTrial(context, { alone: true, replicates: 2, ...given });
    return { trial, sitting };
  };

  test('draws one code a cup that all share, and nobody can know what it holds', () => {
    const place = drawn({ warmup: true });
    const ann = store.sittings.cupsOf({ ...place, assessor: 'Ann' });
    const bob = store.sittings.cupsOf({ ...place, assessor: 'Bob' });
    expect(ann.map(({ mix }) => mix)).toEqual(['warmup', ...new Array(8).fill('')]);
    const sorted = (cups: typeof ann) => cups.map(({ code }) => code).sort();
    expect(sorted(ann)).toEqual(sorted(bob));
    expect(new Set(sorted(ann)).size).toBe(9);
    expect(JSON.stringify(pouringSheet(store, place).trays)).not.toMatch(/q[abc]\d|reference/);
  });

  test('enters the names after the last ballot, each drink as often as it was poured', () => {
    const place = drawn();
    const codes = [
      ...new Set(store.sittings.cups(place.trial, place.sitting).map(({ code }) => code)),
    ].sort();
    const drinks = ['qa1', 'qa1', 'qb2', 'qb2', 'qc3', 'qc3', 'reference', 'reference'];
    const names = codes.map((code, i) => ({ code, mix: drinks[i]! }));
    openSitting(context, place);
    expect(refusalOf(() => nameCups(context, place, names)).message).toMatch(/end the tasting first/);
    closeSitting(context, place);
    expect(refusalOf(() => openKey(context, place, 'done')).message).toMatch(/names that stand under/);
    expect(refusalOf(() => nameCups(context, place, names.slice(1))).faults[0]!.where).toBe('names');
    const wrong = names.map((name, i) => (i === 3 ? { ...name, mix: 'qa1' } : name));
    expect(refusalOf(() => nameCups(context, place, wrong)).message).toMatch(/qb2 \(2 times\)/);
    const summary = nameCups(context, place, names);
    expect(summary.unnamed).toEqual([]);
    for (const { assessor, mix, replicate, code } of store.sittings.cups(place.trial, place.sitting)) {
      expect(mix).toBe(names.find((name) => name.code === code)!.mix);
      expect(['1', '2']).toContain(replicate);
      const same = store.sittings.cupsOf({ ...place, assessor }).filter((cup) => cup.mix === mix);
      expect(same.map((cup) => cup.replicate)).toEqual(['1', '2']);
    }
    expect(openKey(context, place, 'done').key).toBe('opened');
    expect(refusalOf(() => nameCups(context, place, names)).message).toMatch(/no name is missing/);
  });

  test('counts the ethanol of what will stand there, and seats a late taster at the same cups', () => {
    const place = drawn();
    addTaster(context, place, { assessor: 'Cy', knowing: false });
    const cy = store.sittings.cupsOf({ ...place, assessor: 'Cy' });
    const ann = store.sittings.cupsOf({ ...place, assessor: 'Ann' });
    expect(cy.map(({ code }) => code).sort()).toEqual(ann.map(({ code }) => code).sort());
  });
});

describe('a taster who does not come', () => {
  test('is expected no more, and may come after all', () => {
    const { trial, sitting } = drawnTrial(context);
    const place = { trial, sitting };
    const without = markAbsent(context, place, { assessor: 'Bob', absent: true });
    expect([without.answersExpected, without.cups]).toEqual([8, 4]);
    expect(liveView(store, place, NOON).trays.map(({ absent }) => absent)).toEqual([false, true]);
    expect(markAbsent(context, place, { assessor: 'Bob', absent: false }).answersExpected).toBe(16);
    expect(store.acts.list(trial).filter(({ act }) => /absen/.test(act))).toHaveLength(2);
  });

  test('who has answered cannot be absent', () => {
    const { trial, sitting } = drawnTrial(context);
    openSitting(context, { trial, sitting });
    const seat = { trial, sitting, assessor: 'Ann' };
    const [{ code = '' } = {}] = store.sittings.cupsOf(seat);
    const phone = messageId(['p']);
    takeAnswers(context, seat, [{ id: phone, code, question: 'bitter', value: 1, phone, count: 1 }]);
    expect(
      refusalOf(() => markAbsent(context, { trial, sitting }, { assessor: 'Ann', absent: true })).message,
    ).toMatch(/has answered already/);
  });

  test('leaves orders that are drawn anew for the others, balanced among them, with fresh codes', () => {
    const assessors = ['A', 'B', 'C', 'D', 'E', 'F'];
    const { trial, sitting } = drawnTrial(context, { assessors, warmup: true, replicates: 1 });
    const place = { trial, sitting };
    const before = store.sittings.cups(trial, sitting).map(({ code }) => code);
    for (const assessor of ['B', 'E']) markAbsent(context, place, { assessor, absent: true });
    const summary = redrawOrders(context, place);
    expect(summary.answersExpected).toBe(4 * 5 * 2);
    const rows = ['A', 'C', 'D', 'F'].map((assessor) => mixesOf(place, assessor));
    for (const row of rows) expect([row[0], row.length]).toEqual(['warmup', 5]);
    for (let k = 1; k <= 4; k++) expect(new Set(rows.map((row) => row[k])).size).toBe(4);
    expect(mixesOf(place, 'B')).toEqual([]);
    const after = store.sittings.cups(trial, sitting).map(({ code }) => code);
    expect(after.filter((code) => before.includes(code)).length).toBe(0);
    openSitting(context, place);
    expect(refusalOf(() => redrawOrders(context, place)).message).toMatch(/begun/);
    expect(ballotView(store, { ...place, assessor: 'B' }, []).cups).toEqual([]);
  });

  test('is made up for by the tray of one who comes late', () => {
    const { trial, sitting } = drawnTrial(context, { assessors: ['A', 'B', 'C', 'D'] });
    const place = { trial, sitting };
    markAbsent(context, place, { assessor: 'C', absent: true });
    openSitting(context, place);
    const gone = mixesOf(place, 'C');
    addTaster(context, place, { assessor: 'E', knowing: false });
    const rows = ['A', 'B', 'D', 'E'].map((assessor) => mixesOf(place, assessor));
    for (let k = 0; k < 4; k++) expect(new Set(rows.map((row) => row[k])).size).toBe(4);
    expect(rows[3]).toEqual(gone);
  });
});

test('trays of a taster alone never stand in the order in which the bottles were weighed', () => {
  for (let n = 0; n < 40; n++) {
    const { trial, sitting } = drawnTrial(context, { assessors: ['Ann'], reference: false });
    expect(mixesOf({ trial, sitting }, 'Ann').join()).not.toBe('qa1,qb2,qc3');
  }
});
