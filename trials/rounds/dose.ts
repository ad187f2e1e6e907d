import type { Brief } from '../schema/brief.ts';
import type { MixRecord } from '../store/records.ts';

/** Millilitres of concentrate per litre of drink for a mix; null where the brief has no dose. */
export function doseOf(brief: Brief, { planned }: Pick<MixRecord, 'planned'>): number | null {
  const dose = brief.drink?.dosePerLitre;
  if (dose === undefined) return null;
  if (typeof dose === 'number') return dose;
  return Object.hasOwn(planned.settings, dose.setting) ? planned.settings[dose.setting]! : null;
}
