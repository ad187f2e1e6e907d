import { account, addLot, changeLot, countLot, keepMaterial } from '../../../trials/rounds/keep-lots.ts';
import { ledgerOf } from '../../../trials/rounds/ledger.ts';
import { makeStock } from '../../../trials/rounds/make-stock.ts';
import { addLimit, changeLimit, limitViews, takeLimitAway } from '../../../trials/rounds/own-limits.ts';
import { shelfView } from '../../../trials/rounds/shelf-view.ts';
import type { Handlers } from '../handler.ts';
import { contextFor, type House } from '../house.ts';

type Names =
  | 'readShelf'
  | 'listLimits'
  | 'addLimit'
  | 'changeLimit'
  | 'takeLimitAway'
  | 'keepMaterial'
  | 'addLot'
  | 'changeLot'
  | 'countLot'
  | 'readLot'
  | 'makeStock'
  | 'readLedger';

/** Materials, bottles, stocks, and what every gram went into. */
export function shelfHandlers(house: House): Pick<Handlers, Names> {
  const context = (call: { caller: { role: string } }) => contextFor(house, call.caller.role);
  return {
    readShelf: (call) => shelfView(context(call)),
    listLimits: () => limitViews(house.store),
    addLimit: (call) => addLimit(context(call), call.body),
    changeLimit: (call) => changeLimit(context(call), call.params.limit, call.body),
    takeLimitAway: (call) => takeLimitAway(context(call), call.params.limit),
    keepMaterial: (call) => keepMaterial(context(call), call.params.material, call.body),
    addLot: (call) => addLot(context(call), call.body),
    changeLot: (call) => changeLot(context(call), call.params.lot, call.body),
    countLot: (call) => countLot(context(call), call.params.lot, call.body),
    readLot: (call) => account(context(call), call.params.lot),
    makeStock: (call) => makeStock(context(call), call.body),
    readLedger: (call) => ledgerOf(context(call), call.params.trial),
  };
}
