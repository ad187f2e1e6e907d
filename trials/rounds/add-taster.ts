import { type Context, record } from './context.ts';
import { drawLateTray } from './draw-late-tray.ts';
import { findSitting } from './find.ts';
import { conflict } from './refusal.ts';
import type { SittingPlace } from './sitting-life.ts';
import { drawSeed, drawToken, hashToken } from './tokens.ts';

/**
 * Seats a taster who comes late: the same cups as the others have, in an order that makes up for what theirs lack,
 * under codes that nobody here has met. Returns the token of the link.
 */
export function addTaster(
  context: Context,
  { trial, sitting }: SittingPlace,
  { assessor, knowing }: { assessor: string; knowing: boolean },
): string {
  const { store } = context;
  return store.write(() => {
    const { key, label, manner } = findSitting(store, trial, sitting);
    if (key === 'opened') throw conflict('the key is open: draw another sitting');
    const seats = store.sittings.seats(trial, sitting);
    if (seats.some((seat) => seat.assessor === assessor)) throw conflict(`${assessor} has a seat already`);
    const come = new Set(seats.filter(({ absent }) => !absent).map((seat) => seat.assessor));
    const all = store.sittings.cups(trial, sitting);
    const present = all.filter((cup) => come.has(cup.assessor));
    const tray = drawLateTray({
      assessor,
      label,
      manner,
      cups: present.length > 0 ? present : all,
      met: store.sittings.codesMet(trial),
      seed: drawSeed(),
    });
    const token = drawToken();
    const place = Math.max(...seats.map((seat) => seat.place)) + 1;
    const seat = { place, knowing, position: 0, heard: null, absent: false };
    store.sittings.addSeat({ trial, sitting, assessor }, seat, hashToken(token));
    for (const cup of tray.cups) store.sittings.addCup({ trial, sitting }, { assessor, part: null, ...cup });
    record(context, trial, 'seated a late taster', `${JSON.stringify(assessor)} in ${JSON.stringify(label)}`);
    return token;
  });
}
