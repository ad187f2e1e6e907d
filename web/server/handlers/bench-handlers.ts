import { checkedBrief } from '../../../trials/rounds/create-trial.ts';
import { judgeBrief } from '../../../trials/rounds/judge-brief.ts';
import { ownLimitsIn } from '../../../trials/rounds/own-limits.ts';
import { shelfIn } from '../../../trials/rounds/shelf-view.ts';
import { startProof } from '../../../trials/rounds/start-proof.ts';
import { loadSolver } from '../../../trials/solver.ts';
import type { Handlers } from '../handler.ts';
import { contextFor, type House } from '../house.ts';

type Names = 'judgeBrief' | 'startProof';

/** The bench beside a trial's rounds: limits, the shelf, the card. */
export function benchHandlers(house: House): Pick<Handlers, Names> {
  return {
    startProof: (call) => startProof(contextFor(house, call.caller.role), call.params.trial, call.body),
    judgeBrief: async ({ raw }) =>
      judgeBrief(checkedBrief(raw).brief, {
        solver: await loadSolver(),
        shelf: shelfIn(house.store),
        limits: ownLimitsIn(house.store),
      }),
  };
}
