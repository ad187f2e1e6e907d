import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import type { Brief } from '../schema/brief.ts';
import { knownActives } from '../schema/known-actives.ts';
import { usualCups } from '../schema/usual-cups.ts';
import type { SittingRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { latestWeighings } from './weighed.ts';
import { counted, listed, spanOf } from './words.ts';

/** Bottles of one round should not differ in age by more than this share. Common practice, no published source. */
const EQUAL_AGE = 0.1;
const HOUR = 3_600_000;

interface Drawn {
  record: SittingRecord;
  brief: Brief;
  /** What one taster is served. */
  tray: readonly string[];
}

/** What may spoil a sitting that is drawn, each in a sentence; nothing in it tells a code from a mix. */
export function sittingWarnings(store: Store, trial: string, { record, brief, tray }: Drawn): string[] {
  return [...knownActives(brief), ...tooManyCups(brief, tray), ...unequalAge(store, trial, record, tray)];
}

function tooManyCups(brief: Brief, tray: readonly string[]): string[] {
  const cups = tray.filter((mix) => mix !== WARMUP).length;
  const usual = usualCups(brief.panel.lingers ?? false);
  if (cups <= usual) return [];
  const why = brief.panel.lingers ? 'the taste lingers' : 'noses dull';
  return [`${counted(cups, 'cup')} for each taster: ${why}, ${usual} at a sitting are enough`];
}

/** Tasted while some bottles are clearly older than others: age is then mixed up with the ratios. */
function unequalAge(store: Store, trial: string, record: SittingRecord, tray: readonly string[]): string[] {
  const weighings = latestWeighings(store, trial);
  const at = Date.parse(record.opened ?? record.drawn);
  const ages = store.rounds
    .list(trial)
    .flatMap(({ round }) => store.rounds.mixes(trial, round))
    .filter(({ mix, again }) => tray.includes(mix) && mix !== REFERENCE && !again)
    .flatMap(({ mix, blend }) => {
      const weighed = weighings.get(blend);
      return weighed ? [{ mix, hours: Math.max(0, (at - Date.parse(weighed.at)) / HOUR) }] : [];
    });
  if (ages.length < 2) return [];
  const hours = ages.map((one) => one.hours);
  const [youngest, oldest] = [Math.min(...hours), Math.max(...hours)];
  if (oldest - youngest < 1 || oldest <= youngest * (1 + EQUAL_AGE)) return [];
  const old = ages.filter((one) => one.hours > youngest * (1 + EQUAL_AGE)).map(({ mix }) => mix);
  return [
    `the bottles differ in age: ${spanOf(youngest)} the youngest, ${spanOf(oldest)} the oldest ` +
      `(${listed(old.slice(0, 4))}${old.length > 4 ? ' and more' : ''}): let the youngest rest on, or weigh afresh`,
  ];
}
