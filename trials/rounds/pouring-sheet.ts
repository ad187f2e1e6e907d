import type { PouringSheet } from '../schema/api.ts';
import { formOf } from '../schema/scale-form.ts';
import { tasterCautions } from '../schema/taster-cautions.ts';
import type { Store } from '../store/store.ts';
import { partsOf } from './cup-parts.ts';
import { doseOf } from './dose.ts';
import { findSitting, findTrial } from './find.ts';
import type { SittingPlace } from './sitting-life.ts';

/** What whoever pours needs: trays, codes, mixes and doses. */
export function pouringSheet(store: Store, { trial, sitting }: SittingPlace): PouringSheet {
  const { label, round, questions, manner } = findSitting(store, trial, sitting);
  const { brief } = findTrial(store, trial).latest;
  const cups = store.sittings.cups(trial, sitting);
  const hidden = cups.some(({ mix }) => mix === '') ? [...(manner.hidden ?? [])].sort() : [];
  const trays = store.sittings.seats(trial, sitting).map(({ assessor }) => ({
    assessor,
    cups: partsOf(cups.filter((cup) => cup.assessor === assessor)).flatMap((one) =>
      one.cups.map(({ position, code, mix }) => ({ position, code, mix, part: one.part })),
    ),
  }));
  const doses = store.rounds
    .mixes(trial, round)
    .filter(({ mix }) => hidden.includes(mix) || cups.some((cup) => cup.mix === mix))
    .map((mix): [string, number | null] => [mix.mix, doseOf(brief, mix)])
    .filter((entry): entry is [string, number] => entry[1] !== null);
  const cupMillilitres = brief.drink?.cupMillilitres ?? null;
  const asked = questions.map((question) => {
    const { id, name, scale, words = [] } = question;
    return { id, name, scale: [...scale] as [number, number], form: formOf(question), words };
  });
  return {
    trial,
    sitting,
    label,
    cupMillilitres,
    cautions: tasterCautions(brief),
    trays,
    questions: asked,
    hidden,
    doses: Object.fromEntries(doses),
  };
}
