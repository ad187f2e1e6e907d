import { describe, expect, test } from 'vitest';
import type { RouteName } from '../../../trials/schema/api.ts';
import { SHELF_ROUTES } from '../../../trials/schema/routes/shelf-routes.ts';
import { answeredRoutes } from '../../support/answered-routes.ts';
import { openWorkbench } from '../../support/workbench.ts';

const { asked, answered, refused } = answeredRoutes(await openWorkbench());

describe('the shelf', () => {
  test('holds materials, bottles and stocks, and tells what every gram went into', async () => {
    const own = { name: 'Own oil', kind: 'essential oil', source: 'its sheet' };
    const kept = await answered('keepMaterial', { params: { material: 'own-oil' }, body: own });
    expect(kept.materials.find(({ material }: { material: string }) => material === 'own-oil').own).toBe(
      true,
    );
    const { lot } = await answered('addLot', { body: { material: 'own-oil', label: 'A', grams: 5 } });
    const params = { lot: lot.lot };
    await answered('changeLot', { params, body: { opened: '2026-01-02' } });
    await answered('countLot', { params, body: { grams: 4, why: 'spilt' } });
    const stock = { label: 'S', from: lot.lot, grams: 1, solvent: { material: 'ethanol-96', grams: 9 } };
    expect((await answered('makeStock', { body: stock })).lot).toMatchObject({ strength: 10, grams: 10 });
    expect((await answered('readLot', { params })).lot).toMatchObject({ grams: 3, since: '2026-01-02' });
    expect((await answered('readShelf')).lots).toHaveLength(2);
    expect((await answered('listLimits')).length).toBeGreaterThan(50);
    const limit = { substance: 'Own oil', limit: 2, source: 'letter' };
    expect((await answered('addLimit', { body: limit }))[0]).toMatchObject({ ...limit, own: 1 });
    const changed = { params: { limit: 1 }, body: { ...limit, limit: 3 } };
    expect((await answered('changeLimit', changed))[0]).toMatchObject({ limit: 3 });
    expect((await answered('takeLimitAway', { params: { limit: 1 } }))[0].own).toBeNull();
    await refused('takeLimitAway', { params: { limit: 2 } }, 'not-found');
    await refused('addLimit', { body: { ...limit, limit: -1 } }, 'bad-input');
    await refused('addLimit', { body: { substance: 'Own oil', limit: 2 } }, 'bad-input');
    const ledger = await answered('readLedger', { params: { trial: 'demo' } });
    expect(ledger.bottles).toHaveLength(9);
    await refused('makeStock', { body: { ...stock, grams: 50 } }, 'conflict');
    await refused('addLot', { body: { material: 'own-oil', label: 'A', grams: -5 } }, 'bad-input');
    await refused('keepMaterial', { params: { material: 'x' }, body: { ...own, cas: '1-2-3' } }, 'bad-input');
    await refused('readLot', { params: { lot: 'b99' } }, 'not-found');
  });

  test('has no route that was not answered here', () => {
    expect(Object.keys(SHELF_ROUTES).filter((name) => !asked.has(name as RouteName))).toEqual([]);
  });
});
