import type { SeatKey } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { type Context, record } from './context.ts';
import { findTrial } from './find.ts';
import { notFound } from './refusal.ts';

/** All that is kept of one taster in a trial: seats, consents, and every answer as it came. */
export function exportTaster(context: Context, trial: string, assessor: string): Record<string, unknown> {
  const { store } = context;
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
  return { trial: findTrial(store, trial).name, assessor, seats };
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
  const places = seatsOf(store, trial, assessor);
  const name = freeNumber(store, trial);
  store.eraseName(trial, assessor, name);
  record(
    context,
    trial,
    'erased a name',
    `a taster of ${places.length} sittings is now ${JSON.stringify(name)}`,
  );
  return { name, backups: store.copies.list().map((copy) => copy.name), alsoIn: namesakes(store, assessor) };
}

function seatsOf(store: Store, trial: string, assessor: string): SeatKey[] {
  findTrial(store, trial);
  const seats = store.sittings
    .list(trial)
    .filter(({ sitting }) => store.sittings.seats(trial, sitting).some((seat) => seat.assessor === assessor))
    .map(({ sitting }) => ({ trial, sitting, assessor }));
  if (seats.length === 0) throw notFound('this taster');
  return seats;
}

function namesakes(store: Store, assessor: string): string[] {
  return store.trials
    .list()
    .filter(({ trial }) =>
      store.sittings
        .list(trial)
        .some(({ sitting }) =>
          store.sittings.seats(trial, sitting).some((seat) => seat.assessor === assessor),
        ),
    )
    .map(({ name }) => name);
}

function freeNumber(store: Store, trial: string): string {
  const names = store.sittings
    .list(trial)
    .flatMap(({ sitting }) => store.sittings.seats(trial, sitting).map(({ assessor }) => assessor));
  let number = 1;
  while (names.includes(`P${number}`)) number++;
  return `P${number}`;
}
