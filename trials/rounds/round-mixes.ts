import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import type { Fault } from '../schema/api.ts';
import type { Brief } from '../schema/brief.ts';
import { makeFault } from '../schema/faults.ts';
import type { MixRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { Refusal } from './refusal.ts';

/** Slack on shares and settings that were printed and read back. */
const SLACK = 1e-6;

/** Refuses a round's mixes, all faults at once, where one does not fit the brief or the mixes that exist. */
export function refuseBadMixes(store: Store, trial: string, brief: Brief, mixes: readonly MixRecord[]): void {
  const earlier = store.rounds.list(trial).flatMap(({ round }) => store.rounds.mixes(trial, round));
  const faults = mixes.length === 0 ? [makeFault('mixes', 0, 'at least one mix')] : [];
  mixes.forEach((mix, index) => {
    faults.push(
      ...nameFaults(mixes, index, earlier),
      ...amountFaults(brief, mix),
      ...settingFaults(brief, mix),
    );
  });
  if (faults.length > 0) throw new Refusal('bad-input', faults[0]!.message, faults);
}

function nameFaults(mixes: readonly MixRecord[], index: number, earlier: readonly MixRecord[]): Fault[] {
  const mix = mixes[index]!;
  const where = `mix ${mix.mix}`;
  const exists = earlier.some((one) => one.mix === mix.mix);
  const faults: Fault[] = [];
  if (mix.mix === REFERENCE || mix.mix === WARMUP)
    faults.push(
      makeFault(where, mix.mix, `another name: ${REFERENCE} and ${WARMUP} have meanings of their own`),
    );
  if (mixes.findIndex((one) => one.mix === mix.mix) !== index)
    faults.push(makeFault(where, mix.mix, 'each name once'));
  if (exists && !mix.again) faults.push(makeFault(where, mix.mix, 'a name no earlier mix of this trial has'));
  if (!exists && mix.again)
    faults.push(makeFault(where, mix.mix, 'an earlier mix, since it is to be poured again'));
  const known = [...mixes, ...earlier].map((one) => one.mix);
  if (mix.repeats !== null && !known.includes(mix.repeats))
    faults.push(makeFault(`${where}: repeats`, mix.repeats, 'a mix of this trial'));
  return faults;
}

function amountFaults(brief: Brief, { mix, planned }: MixRecord): Fault[] {
  const ids = brief.components.map(({ id }) => id);
  const faults = [...new Set([...Object.keys(planned.grams), ...Object.keys(planned.ratios)])]
    .filter((id) => !ids.includes(id))
    .map((id) => makeFault(`mix ${mix}`, id, `a component of the brief (${ids.join(', ')})`));
  const grams = ids.map((id) => own(planned.grams, id));
  const total = grams.reduce((sum, g) => sum + g, 0);
  if (!(total > 0) || grams.some((g) => !(g >= 0)))
    return [...faults, makeFault(`mix ${mix}: grams`, total, 'masses of 0 or more with a sum above 0')];
  ids.forEach((id, i) => {
    const share = grams[i]! / total;
    if (!(Math.abs(own(planned.ratios, id) - share) <= SLACK))
      faults.push(
        makeFault(`mix ${mix}: ratio of ${id}`, own(planned.ratios, id), `${share}, that of its grams`),
      );
  });
  return faults;
}

function settingFaults(brief: Brief, { mix, planned }: MixRecord): Fault[] {
  const strangers = Object.keys(planned.settings).filter((id) => !brief.settings.some((s) => s.id === id));
  const faults = strangers.map((id) => makeFault(`mix ${mix}`, id, 'a setting of the brief'));
  for (const { id, low, high } of brief.settings) {
    const value = Object.hasOwn(planned.settings, id) ? planned.settings[id]! : Number.NaN;
    const slack = SLACK * (high - low);
    if (!(value >= low - slack && value <= high + slack))
      faults.push(makeFault(`mix ${mix}: ${id}`, value, `${low} to ${high}`));
  }
  return faults;
}

function own(values: Readonly<Record<string, number>>, id: string): number {
  return Object.hasOwn(values, id) ? values[id]! : 0;
}
