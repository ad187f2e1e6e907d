import type { SeatKey } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { type Context, record } from './context.ts';
import { findTrial } from './find.ts';
import { notFound } from './refusal.ts';
import { counted } from './words.ts';

/** All that is kept of one taster in a trial: seats, consents, ladders of doses, and every answer as it came. */
export function exportTaster(context: Context, trial: string, assessor: string): Record<string, unknown> {
  const { store } = context;
  refuseStranger(store, trial, assessor);
  const seats = seatsOf(store, trial, assessor).map((key) => {
    const { label, key: sealed } = store.sittings.find(trial, key.sitting)!;
    const consents = store.answers.consents(trial, key.sitting).filter((one) => one.assessor === assessor);
    const cups = store.sittings
      .cupsOf(key)
      .map(({ position, code, mix, replicate }) =>
        sealed === 'opened' ? { position, code, mix, replicate } : { position, code, replicate },
      );
    const given = consents.map(({ version, at }) => ({ version, at }));
    return { sitting: label, consents: given, cups, answers: store.answers.messages(key) };
  });
  return { trial: findTrial(store, trial).name, assessor, seats, ladders: laddersOf(store, trial, assessor) };
}

/**
 * Puts a number in place of a taster's name everywhere in a trial, stored inputs and acts included, and rewrites the
 * file. Scores stay, under the number. Copies made earlier still hold the name and are listed, and so are other trials
 * with a taster of that name, who may be somebody else.
 */
export function eraseTaster(
  context: Context,
  trial: string,
  assessor: string,
): { name: string; backups: string[]; alsoIn: string[] } {
  const { store } = context;
  refuseStranger(store, trial, assessor);
  const sittings = counted(seatsOf(store, trial, assessor).length, 'sitting');
  const ladders = laddersOf(store, trial, assessor).length;
  const told =
    ladders === 0 ? sittings : `${sittings} and ${counted(ladders, 'ladder of doses', 'ladders of doses')}`;
  const name = freeNumber(store, trial);
  store.eraseName(trial, assessor, name);
  record(context, trial, 'erased a name', `a taster of ${told} is now ${JSON.stringify(name)}`);
  return { name, backups: store.copies.list().map((copy) => copy.name), alsoIn: namesakes(store, assessor) };
}

function refuseStranger(store: Store, trial: string, assessor: string): void {
  findTrial(store, trial);
  if (!tastersOf(store, trial).has(assessor)) throw notFound('this taster');
}

/** Everyone with a seat or a tray of a ladder. */
function tastersOf(store: Store, trial: string): Set<string> {
  const seats = store.sittings.list(trial).flatMap(({ sitting }) => store.sittings.seats(trial, sitting));
  const trays = store.ladders.list(trial).flatMap(({ ladder }) => store.ladders.trays(trial, ladder));
  return new Set([...seats, ...trays].map(({ assessor }) => assessor));
}

function seatsOf(store: Store, trial: string, assessor: string): SeatKey[] {
  return store.sittings
    .list(trial)
    .filter(({ sitting }) => store.sittings.seats(trial, sitting).some((seat) => seat.assessor === assessor))
    .map(({ sitting }) => ({ trial, sitting, assessor }));
}

/** The cups that a taster had on each ladder and every answer; which of them was odd is told with the ladder, not here. */
function laddersOf(store: Store, trial: string, assessor: string) {
  return store.ladders.list(trial).flatMap(({ ladder, component, at }) => {
    const own = store.ladders.trays(trial, ladder).find((tray) => tray.assessor === assessor);
    if (!own) return [];
    const answers = store.ladders
      .answers(trial, ladder)
      .filter((answer) => answer.assessor === assessor)
      .map((answer) => ({ rung: answer.rung, code: answer.code, at: answer.at }));
    return [{ ladder, component, drawn: at, cups: own.threes.map(({ codes }) => codes), answers }];
  });
}

function namesakes(store: Store, assessor: string): string[] {
  return store.trials
    .list()
    .filter(({ trial }) => tastersOf(store, trial).has(assessor))
    .map(({ name }) => name);
}

function freeNumber(store: Store, trial: string): string {
  const names = tastersOf(store, trial);
  let number = 1;
  while (names.has(`P${number}`)) number++;
  return `P${number}`;
}
