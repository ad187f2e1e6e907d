import { signal } from '@preact/signals';
import type { WeighingRequest } from '../../../trials/schema/api.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { ask } from '../server.ts';
import { showRound } from '../trial-store.ts';

type Weighing = (typeof WeighingRequest)['_input'];

/** A bottle that is whole, on its way to the workbench. */
export interface Parcel {
  trial: string;
  round: number;
  blend: string;
  /** One of the mixes that are poured from it. */
  mix: string;
  body: Weighing;
  /** Done once it has arrived. */
  arrived: () => void;
  trouble: Loaded<never> | null;
}

/** Whole bottles that have not arrived, oldest first. They go on from whatever page. */
export const outbox = signal<readonly Parcel[]>([]);

let going = false;

const isSame = (a: Place, b: Place) => a.trial === b.trial && a.round === b.round && a.blend === b.blend;
type Place = Pick<Parcel, 'trial' | 'round' | 'blend'>;

/** What is on its way of one bottle. */
export function parcelOf(place: Place): Parcel | undefined {
  return outbox.value.find((one) => isSame(one, place));
}

/** Sends a whole bottle after those before it; what was still waiting of the same bottle gives way. */
export function post(parcel: Omit<Parcel, 'trouble'>): void {
  const others = outbox.value.filter((one) => !isSame(one, parcel));
  outbox.value = [...others, { ...parcel, trouble: null }];
  if (!going) void sendAll();
}

/** One at a time, so that what counts last arrives last. What was refused or failed stays, with its reason. */
async function sendAll(): Promise<void> {
  going = true;
  for (;;) {
    const parcel = outbox.value.find(({ trouble }) => trouble === null);
    if (parcel === undefined) break;
    const { trial, round, mix, body } = parcel;
    try {
      const view = await ask('weighMix', { trial, round, mix }, body);
      parcel.arrived();
      replace(parcel, null);
      showRound(trial, view);
      tryFailedAgain();
    } catch (thrown) {
      replace(parcel, { ...parcel, trouble: troubleOf(thrown) });
    }
  }
  going = false;
}

function replace(parcel: Parcel, by: Parcel | null): void {
  outbox.value = outbox.value.flatMap((one) => (one !== parcel ? [one] : by === null ? [] : [by]));
}

/** Where one has arrived the workbench is there again. */
function tryFailedAgain(): void {
  outbox.value = outbox.value.map((one) =>
    one.trouble?.state === 'failed' ? { ...one, trouble: null } : one,
  );
}
