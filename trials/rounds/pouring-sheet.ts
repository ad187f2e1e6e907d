import type { PouringSheet } from '../schema/api.ts';
import type { Store } from '../store/store.ts';
import { doseOf } from './dose.ts';
import { findSitting, findTrial } from './find.ts';
import type { SittingPlace } from './sitting-life.ts';

/** What whoever pours needs: trays, codes, mixes and doses. */
export function pouringSheet(store: Store, { trial, sitting }: SittingPlace): PouringSheet {
  const { label, round } = findSitting(store, trial, sitting);
  const { brief } = findTrial(store, trial).latest;
  const cups = store.sittings.cups(trial, sitting);
  const trays = store.sittings.seats(trial, sitting).map(({ assessor }) => ({
    assessor,
    cups: cups
      .filter((cup) => cup.assessor === assessor)
      .map(({ position, code, mix }) => ({ position, code, mix })),
  }));
  const doses = store.rounds
    .mixes(trial, round)
    .filter(({ mix }) => cups.some((cup) => cup.mix === mix))
    .map((mix): [string, number | null] => [mix.mix, doseOf(brief, mix)])
    .filter((entry): entry is [string, number] => entry[1] !== null);
  const cupMillilitres = brief.drink?.cupMillilitres ?? null;
  return { trial, sitting, label, cupMillilitres, trays, doses: Object.fromEntries(doses) };
}
