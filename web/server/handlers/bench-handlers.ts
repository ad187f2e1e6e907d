import { checkedBrief } from '../../../trials/rounds/create-trial.ts';
import { judgeBrief } from '../../../trials/rounds/judge-brief.ts';
import { shelfIn } from '../../../trials/rounds/shelf-view.ts';
import { loadSolver } from '../../../trials/solver.ts';
import type { Handlers } from '../handler.ts';
import type { House } from '../house.ts';

type Names = 'judgeBrief';

/** The bench beside a trial's rounds: limits, the shelf, the card. */
export function benchHandlers(house: House): Pick<Handlers, Names> {
  return {
    judgeBrief: async ({ raw }) =>
      judgeBrief(checkedBrief(raw).brief, { solver: await loadSolver(), shelf: shelfIn(house.store) }),
  };
}
