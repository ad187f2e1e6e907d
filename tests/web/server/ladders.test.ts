import { describe, expect, test } from 'vitest';
import type { LadderView } from '../../../trials/schema/api.ts';
import { LADDER_ROUTES } from '../../../trials/schema/routes/ladder-routes.ts';
import { plannedTrial } from '../../support/small-trial.ts';
import { contextOf, folderWithData } from '../../support/trial-folder.ts';
import { openWorkbench, type Workbench } from '../../support/workbench.ts';

const REQUEST = { component: 'limeOil', concentrations: [1, 2, 4], tasters: ['Ann', '__proto__'] };

/** Everything `taster` found, as it is sent. */
const found = ({ trays }: LadderView, taster: string) =>
  trays
    .find((tray) => tray.taster === taster)!
    .threes.map(({ odd }, k) => ({ taster, rung: k + 1, code: odd }));

const asked = new Set<string>();

/** The same workbench, which notes every route that was asked and answered. */
function noting(workbench: Workbench): Workbench {
  const ask: Workbench['ask'] = async (name, given) => {
    const reply = await workbench.ask(name, given);
    if (reply.status === 200) asked.add(name);
    return reply;
  };
  return { ...workbench, ask };
}

describe('a ladder of doses over HTTP', () => {
  test('is drawn, answered, put away and brought back, and stands after the program was started anew', async () => {
    const folder = folderWithData({ demo: false });
    const first = noting(await openWorkbench({ folder }));
    const trial = plannedTrial(contextOf(first.store));
    const params = { trial, ladder: 1 };
    expect((await first.ask('listLadders', { params })).body).toEqual([]);
    const drawn = (await first.ask('drawLadder', { params, body: REQUEST })).body as LadderView;
    expect(drawn).toMatchObject({ ladder: 1, component: 'limeOil', away: null });
    const answers = [...found(drawn, 'Ann'), ...found(drawn, '__proto__')];
    const answered = (await first.ask('answerLadder', { params, body: { answers } })).body as LadderView;
    expect(answered.trays.every(({ threes, named }) => threes.every(({ odd }, k) => odd === named[k]))).toBe(
      true,
    );
    expect((await first.ask('putLadderAway', { params, body: { away: true } })).body.away).not.toBeNull();
    expect((await first.ask('answerLadder', { params, body: { answers } })).status).toBe(409);
    await first.ask('putLadderAway', { params, body: { away: false } });
    await first.stop();
    const again = await openWorkbench({ folder });
    expect((await again.ask('listLadders', { params })).body).toEqual([answered]);
    const acts = (await again.ask('listActs', { params })).body as { act: string; who: string }[];
    expect(acts.map(({ act, who }) => `${who} ${act}`).filter((told) => told.includes('ladder'))).toEqual([
      'maker drew a ladder of doses',
      'maker entered the answers on a ladder of doses',
      'maker entered the answers on a ladder of doses',
      'maker put a ladder of doses away',
      'maker brought a ladder of doses back',
    ]);
  });

  test('is refused with the place where it is wrong, and nothing is kept', async () => {
    const { ask, store } = noting(await openWorkbench({ demo: false }));
    const params = { trial: plannedTrial(contextOf(store)), ladder: 1 };
    const cups = [
      { codes: ['100', '101', '102'], odd: '100' },
      { codes: ['200', '201', '202'], odd: '201' },
      { codes: ['300', '301', '302'], odd: '302' },
    ];
    const kept = {
      ...{ component: 'limeOil', concentrations: [1, 2, 4] },
      trays: [{ taster: 'Ann', threes: cups, named: ['100', null, '300'] }],
    };
    const change = (tray: object) => ({ ...kept, trays: [{ ...kept.trays[0], ...tray }] });
    const wrong = [
      ['drawLadder', { ...REQUEST, concentrations: [1, 2] }, 'concentrations'],
      ['drawLadder', { ...REQUEST, concentrations: [1, 1, 2] }, 'concentrations'],
      ['drawLadder', { ...REQUEST, tasters: [] }, 'tasters'],
      ['drawLadder', { ...REQUEST, tasters: ['Ann', 'Ann'] }, 'tasters'],
      ['drawLadder', { ...REQUEST, component: 'rum' }, 'component'],
      ['takeOverLadder', change({ named: ['999', null, null] }), 'trays[0].named'],
      ['takeOverLadder', change({ named: ['100'] }), 'trays'],
      ['takeOverLadder', change({ threes: cups.slice(1), named: [null, null] }), 'trays'],
      [
        'takeOverLadder',
        change({ threes: [{ codes: ['1', '2', '3'], odd: '1' }] }),
        'trays[0].threes[0].codes[0]',
      ],
      [
        'takeOverLadder',
        change({ threes: [{ ...cups[0], odd: '999' }, ...cups.slice(1)] }),
        'trays[0].threes[0]',
      ],
    ] as const;
    for (const [name, body, where] of wrong) {
      const { status, body: told } = await ask(name, { params, body });
      expect([name, status, told.error.faults[0].where]).toEqual([name, 400, where]);
    }
    expect((await ask('answerLadder', { params, body: { answers: [] } })).status).toBe(400);
    expect((await ask('putLadderAway', { params, body: { away: true } })).status).toBe(404);
    expect((await ask('listLadders', { params: { trial: 'none' } })).status).toBe(404);
    expect((await ask('listLadders', { params })).body).toEqual([]);
    expect((await ask('takeOverLadder', { params, body: kept })).status).toBe(200);
    expect((await ask('takeOverLadder', { params, body: kept })).body.trays).toEqual(kept.trays);
    expect((await ask('listLadders', { params })).body).toHaveLength(1);
  });

  test('has no route that was not answered here', () => {
    expect(Object.keys(LADDER_ROUTES).filter((name) => !asked.has(name))).toEqual([]);
  });
});
