import type { TrialView } from '../../../trials/schema/api.ts';
import { readNumber } from '../numbers.ts';
import type { ask } from '../server.ts';

export type PlanBody = Parameters<typeof ask<'startPlan'>>[2] & object;

/** What the maker may ask of a plan, as it is typed and chosen. */
export interface Wishes {
  mixes: string;
  replicated: string;
  model: string;
  /** Mixes poured from each bottle. */
  poured: string;
  /** Whether the mixes are to tell who belongs in the blend at all. */
  screen: string;
  points: string;
  scarce: string;
  atMost: string;
  /** Part of the knowledge that may be lost. */
  loss: string;
  /** What is saved for it: money, or a component. */
  save: string;
}

/** The fewest new mixes: one a component, less what is weighed already. */
export function fewestMixes({ brief }: TrialView, made: number): number {
  return Math.max(1, brief.components.length - made);
}

export function firstWishes(trial: TrialView, fewest: number): Wishes {
  const priced = trial.brief.components.some(({ pricePerGram }) => (pricePerGram ?? 0) > 0);
  return {
    mixes: String(Math.max(fewest + 2, 8)),
    // The sizes beside the plan are judged in this very model.
    ...{
      replicated: '1',
      model: 'quadratic',
      poured: '1',
      screen: '',
      points: '',
      scarce: '',
      atMost: '',
      loss: '',
    },
    save: priced ? 'money' : trial.brief.components[0]!.id,
  };
}

export type WishFaults = Partial<Record<keyof Wishes, string>>;

export function faultsOf(wishes: Wishes, fewest: number): WishFaults {
  const whole = (text: string, least: number) => {
    const value = readNumber(text);
    return value !== null && Number.isInteger(value) && value >= least;
  };
  const mass = readNumber(wishes.atMost);
  return {
    ...(whole(wishes.mixes, fewest) ? {} : { mixes: `a whole number of at least ${fewest}` }),
    ...(whole(wishes.replicated, 0) ? {} : { replicated: 'a whole number, 0 or more' }),
    ...pouredFault(wishes, whole(wishes.poured, 1)),
    ...(wishes.scarce !== '' && !(mass !== null && mass > 0) ? { atMost: 'grams above 0' } : {}),
  };
}

function pouredFault({ poured, loss, screen }: Wishes, whole: boolean): WishFaults {
  if (!whole) return { poured: 'a whole number, 1 or more' };
  if (Number(poured) > 1 && loss !== '') return { poured: '1, or no cheaper plan looked for' };
  if (Number(poured) > 1 && screen !== '') return { poured: '1 while it tells who belongs in the blend' };
  return {};
}

/** The request of a plan; null where something is still wrong. */
export function bodyOf(wishes: Wishes, fewest: number): PlanBody | null {
  if (Object.keys(faultsOf(wishes, fewest)).length > 0) return null;
  const { model, screen, points, scarce, loss, save } = wishes;
  const perBottle = readNumber(wishes.poured)!;
  return {
    mixes: readNumber(wishes.mixes)!,
    ...(perBottle > 1 ? { perBottle } : { replicated: readNumber(wishes.replicated)! }),
    ...(model === '' || screen !== '' ? {} : { model: model as 'linear' }),
    ...(screen === '' ? {} : { screen: true }),
    ...(points === '' ? {} : { points: points as 'lattice' }),
    ...(scarce === '' ? {} : { atMost: { [scarce]: readNumber(wishes.atMost)! } }),
    ...(loss === '' ? {} : { thrift: Number(loss), ...(save === 'money' ? {} : { spare: [save] }) }),
  };
}
