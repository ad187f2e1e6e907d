import { markAbsent, redrawOrders } from '../../../trials/rounds/absence.ts';
import { addTaster } from '../../../trials/rounds/add-taster.ts';
import { takeCarried } from '../../../trials/rounds/carry-code.ts';
import { simulateAnswers } from '../../../trials/rounds/demo-trial.ts';
import { drawSitting } from '../../../trials/rounds/draw-sitting.ts';
import { checkPaper, enterPaper } from '../../../trials/rounds/enter-paper.ts';
import { liveView } from '../../../trials/rounds/live.ts';
import { nameCups } from '../../../trials/rounds/name-cups.ts';
import { pouringSheet } from '../../../trials/rounds/pouring-sheet.ts';
import { readTest } from '../../../trials/rounds/read-test.ts';
import {
  closeSitting,
  drawPourerToken,
  openKey,
  openSitting,
  renewToken,
  type SittingPlace,
} from '../../../trials/rounds/sitting-life.ts';
import type { Live } from '../../../trials/schema/api.ts';
import type { Subscribe } from '../event-stream.ts';
import type { Handlers } from '../handler.ts';
import { contextFor, type House } from '../house.ts';
import { ballotLink, pouringLink } from '../links.ts';

type Names =
  | 'drawSitting'
  | 'addTaster'
  | 'markAbsent'
  | 'redrawOrders'
  | 'nameCups'
  | 'readTest'
  | 'readCode'
  | 'renewLink'
  | 'openSitting'
  | 'closeSitting'
  | 'readLive'
  | 'followLive'
  | 'pourerLink'
  | 'readPouring'
  | 'openKey'
  | 'enterPaper'
  | 'checkPaper'
  | 'simulateSitting';

/** Sittings: drawn, opened, followed, closed, their key opened. */
export function sittingHandlers(house: House): Pick<Handlers, Names> {
  const context = (call: { caller: { role: string } }) => contextFor(house, call.caller.role);
  const rung = <T>(place: SittingPlace, result: T): T => {
    house.bell.ring(place.trial, place.sitting);
    return result;
  };
  return {
    drawSitting: (call) => {
      const { sitting, tokens } = drawSitting(context(call), call.params, call.body);
      const links = tokens.map(({ assessor, token }) => ({
        assessor,
        ...ballotLink(house, call.request, token),
      }));
      return { sitting, links };
    },
    addTaster: (call) => {
      const { assessor } = call.body;
      const token = rung(call.params, addTaster(context(call), call.params, call.body));
      return {
        sitting: call.params.sitting,
        links: [{ assessor, ...ballotLink(house, call.request, token) }],
      };
    },
    markAbsent: (call) => rung(call.params, markAbsent(context(call), call.params, call.body)),
    redrawOrders: (call) => rung(call.params, redrawOrders(context(call), call.params)),
    nameCups: (call) => nameCups(context(call), call.params, call.body.names),
    readTest: ({ params }) => readTest(house.store, params),
    readCode: (call) => {
      const { trial } = call.params;
      const carried = takeCarried(context(call), trial, call.body.text);
      return rung({ trial, sitting: carried.sitting }, carried);
    },
    renewLink: (call) => {
      const { assessor } = call.body;
      const token = renewToken(context(call), call.params, assessor);
      return {
        sitting: call.params.sitting,
        links: [{ assessor, ...ballotLink(house, call.request, token) }],
      };
    },
    openSitting: (call) => rung(call.params, openSitting(context(call), call.params)),
    closeSitting: (call) => rung(call.params, closeSitting(context(call), call.params)),
    readLive: ({ params }) => liveView(house.store, params, house.now()),
    followLive: ({ params }) => followLive(house, params),
    pourerLink: (call) => pouringLink(house, call.request, drawPourerToken(context(call), call.params)),
    readPouring: ({ params }) => pouringSheet(house.store, params),
    openKey: (call) => rung(call.params, openKey(context(call), call.params, call.body.why)),
    enterPaper: (call) => rung(call.params, enterPaper(context(call), call.params, call.body)),
    checkPaper: (call) => checkPaper(context(call), call.params, call.body),
    simulateSitting: (call) => rung(call.params, simulateAnswers(context(call), call.params)),
  };
}

function followLive(house: House, place: SittingPlace): Subscribe<Live> {
  const first = liveView(house.store, place, house.now());
  return (send, end) => {
    send(first);
    return house.bell.listen(place.trial, place.sitting, () => {
      try {
        send(liveView(house.store, place, house.now()));
      } catch (thrown) {
        house.log.warn({ err: thrown }, 'a live page was ended');
        end();
      }
    });
  };
}
