import { acceptRound } from '../../../trials/rounds/accept-round.ts';
import { changeBrief, createTrial } from '../../../trials/rounds/create-trial.ts';
import { findTrial } from '../../../trials/rounds/find.ts';
import { markStep } from '../../../trials/rounds/mark-step.ts';
import { roundView } from '../../../trials/rounds/round-view.ts';
import { eraseTaster, exportTaster } from '../../../trials/rounds/taster-data.ts';
import { exportTrial, importTrial } from '../../../trials/rounds/transfer.ts';
import { trialTables } from '../../../trials/rounds/trial-tables.ts';
import { listTrials, trialView } from '../../../trials/rounds/trial-view.ts';
import { weighMix } from '../../../trials/rounds/weigh-mix.ts';
import type { Handlers } from '../handler.ts';
import { contextFor, type House } from '../house.ts';

type Names =
  | 'listTrials'
  | 'createTrial'
  | 'readTrial'
  | 'changeBrief'
  | 'listActs'
  | 'acceptRound'
  | 'readRound'
  | 'weighMix'
  | 'markStep'
  | 'exportTrial'
  | 'exportTables'
  | 'importTrial'
  | 'exportTaster'
  | 'eraseTaster';

/** Trials, briefs, rounds and their bench. */
export function trialHandlers(house: House): Pick<Handlers, Names> {
  const context = (call: { caller: { role: string } }) => contextFor(house, call.caller.role);
  return {
    listTrials: (call) => listTrials(context(call)),
    createTrial: (call) => createTrial(context(call), call.raw),
    readTrial: (call) => trialView(context(call), call.params.trial),
    changeBrief: (call) => changeBrief(context(call), call.params.trial, call.raw),
    listActs: ({ params }) => {
      findTrial(house.store, params.trial);
      return house.store.acts.list(params.trial);
    },
    acceptRound: (call) => acceptRound(context(call), call.params.trial, call.body),
    readRound: (call) => roundView(context(call), call.params.trial, call.params.round),
    weighMix: (call) => weighMix(context(call), call.params, call.body),
    markStep: (call) => markStep(context(call), call.params, call.body),
    exportTrial: (call) => ({ ...exportTrial(context(call), call.params.trial) }),
    exportTables: ({ params }) => ({ files: trialTables(house.store, params.trial) }),
    importTrial: (call) => importTrial(context(call), call.raw),
    exportTaster: (call) => exportTaster(context(call), call.params.trial, call.params.assessor),
    eraseTaster: (call) => eraseTaster(context(call), call.params.trial, call.params.assessor),
  };
}
