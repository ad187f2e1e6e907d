import { createHash } from 'node:crypto';
import type { Brief } from '../schema/brief.ts';
import { tasterCautions } from '../schema/taster-cautions.ts';
import type { SeatKey } from '../store/records.ts';
import { type Context, timeOf } from './context.ts';
import { findTrial } from './find.ts';
import { conflict } from './refusal.ts';

/** What a taster is told before the first cup, and the version of those words. */
export function consentWords(brief: Brief): { version: string; cautions: string[] } {
  const cautions = tasterCautions(brief);
  const digest = createHash('sha256').update(JSON.stringify(cautions)).digest('hex');
  return { version: `cautions-${digest.slice(0, 12)}`, cautions };
}

/** Stores 'I may taste' for the words that were shown, with the time; nothing else about the taster. */
export function giveConsent(context: Context, seat: SeatKey, version: string): void {
  const { store } = context;
  store.write(() => {
    const { brief } = findTrial(store, seat.trial).latest;
    if (version !== consentWords(brief).version)
      throw conflict('what must be known before tasting has changed: load the page again and read it');
    store.answers.addConsent(seat, version, timeOf(context));
  });
}

/** Notes which cup a taster has in hand. */
export function noteProgress(context: Context, seat: SeatKey, position: number): void {
  const { store } = context;
  store.write(() => {
    const cups = store.sittings.cupsOf(seat).length;
    store.sittings.setPosition(seat, Math.min(position, cups), timeOf(context));
  });
}
