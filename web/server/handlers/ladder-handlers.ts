import { ladderViews } from '../../../trials/rounds/ladder-view.ts';
import { answerLadder, drawLadder, putLadderAway, takeOverLadder } from '../../../trials/rounds/ladders.ts';
import type { Handlers } from '../handler.ts';
import { contextFor, type House } from '../house.ts';

type Names = 'listLadders' | 'drawLadder' | 'takeOverLadder' | 'answerLadder' | 'putLadderAway';

/** Ladders of doses. */
export function ladderHandlers(house: House): Pick<Handlers, Names> {
  const context = (call: { caller: { role: string } }) => contextFor(house, call.caller.role);
  return {
    listLadders: ({ params }) => ladderViews(house.store, params.trial),
    drawLadder: (call) => drawLadder(context(call), call.params.trial, call.body),
    takeOverLadder: (call) => takeOverLadder(context(call), call.params.trial, call.body),
    answerLadder: (call) => answerLadder(context(call), call.params, call.body),
    putLadderAway: (call) => putLadderAway(context(call), call.params, call.body.away),
  };
}
