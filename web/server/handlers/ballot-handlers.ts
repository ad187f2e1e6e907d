import { ballotView } from '../../../trials/rounds/ballot-view.ts';
import { giveConsent, noteProgress } from '../../../trials/rounds/consent.ts';
import { takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { type Handlers, seatOf } from '../handler.ts';
import { contextFor, type House } from '../house.ts';

type Names = 'readBallot' | 'giveConsent' | 'sendAnswers' | 'sendProgress';

/** What a taster's phone may do: fetch its own ballot, consent, answer, say where it is. */
export function ballotHandlers(house: House): Pick<Handlers, Names> {
  const context = contextFor(house, 'taster');
  const ring = ({ trial, sitting }: { trial: string; sitting: string }) => house.bell.ring(trial, sitting);
  const shared = () => (house.configuration.shared ? house.addresses.advertised() : []);
  return {
    readBallot: (call) => ballotView(house.store, seatOf(call), shared()),
    giveConsent: (call) => {
      const seat = seatOf(call);
      giveConsent(context, seat, call.body.version);
      ring(seat);
      return { done: true };
    },
    sendAnswers: (call) => {
      const seat = seatOf(call);
      const receipt = takeAnswers(context, seat, call.body.answers);
      ring(seat);
      return receipt;
    },
    sendProgress: (call) => {
      const seat = seatOf(call);
      noteProgress(context, seat, call.body.position);
      ring(seat);
      return { done: true };
    },
  };
}
