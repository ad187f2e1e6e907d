import type { StepName } from '../../trials/schema/api.ts';
import { STEPS } from './words.ts';

/** Sheets that are printed; components of `web/sheets` draw them. */
export const SHEETS = ['weighing', 'labels', 'pouring', 'ballots', 'key', 'card'] as const;
export type Sheet = (typeof SHEETS)[number];

/** Pages of one trial beside its rounds. */
export const TRIAL_PAGES = [
  'story',
  'brief',
  'ladder',
  'plan',
  'next',
  'desk',
  'proof',
  'card',
  'record',
  'ledger',
] as const;
type TrialPage = (typeof TRIAL_PAGES)[number];

/** Lessons that need no trial. */
export const LESSONS = ['answers', 'guess', 'openly'] as const;
export type Lesson = (typeof LESSONS)[number];

/** Where the maker is. Every place has an address of its own, so that it can be kept and sent. */
export type Place =
  | { page: 'trials' }
  | { page: 'new' }
  | { page: 'copies' }
  | { page: 'shelf'; lot: string | null }
  | { page: 'old' }
  | { page: 'teaching'; lesson: Lesson | null; query: URLSearchParams }
  | { page: 'pour'; token: string }
  | { page: 'trial'; trial: string; at: TrialPage; query: URLSearchParams }
  | { page: 'step'; trial: string; round: number; step: StepName; query: URLSearchParams }
  | { page: 'print'; trial: string; sheet: Sheet; query: URLSearchParams }
  | { page: 'unknown'; address: string };

/** Reads a place from what stands behind the `#`. */
export function readPlace(hash: string): Place {
  const address = hash.replace(/^#/, '');
  const [path = '', search = ''] = address.split('?');
  const query = new URLSearchParams(search);
  const words = path.split('/').filter((word) => word !== '');
  const [first, trial, third, fourth, fifth] = words.map(decode);
  const unknown: Place = { page: 'unknown', address };
  if (first === undefined) return { page: 'trials' };
  if (first === 'new' && words.length === 1) return { page: 'new' };
  if (first === 'copies' && words.length === 1) return { page: 'copies' };
  if (first === 'shelf' && words.length <= 2) return { page: 'shelf', lot: trial ?? null };
  if (first === 'old' && words.length === 1) return { page: 'old' };
  if (first === 'teaching' && words.length <= 2)
    return trial === undefined || isOneOf(LESSONS, trial)
      ? { page: 'teaching', lesson: trial ?? null, query }
      : unknown;
  if (first === 'pour') return { page: 'pour', token: trial ?? '' };
  if (first !== 'trials' || trial === undefined) return unknown;
  if (third === undefined) return { page: 'trial', trial, at: 'story', query };
  if (third === 'print')
    return isOneOf(SHEETS, fourth) ? { page: 'print', trial, sheet: fourth, query } : unknown;
  if (third === 'rounds') return readStep(trial, fourth, fifth, query) ?? unknown;
  return isOneOf(TRIAL_PAGES, third) ? { page: 'trial', trial, at: third, query } : unknown;
}

function readStep(trial: string, number = '', word = 'plan', query = new URLSearchParams()): Place | null {
  const round = Number(number);
  if (!Number.isInteger(round) || round < 1 || !Object.hasOwn(STEPS, word)) return null;
  return { page: 'step', trial, round, step: word as StepName, query };
}

function decode(word: string): string {
  try {
    return decodeURIComponent(word);
  } catch {
    return word;
  }
}

function isOneOf<T extends string>(list: readonly T[], word: string | undefined): word is T {
  return list.includes(word as T);
}

/** The address of the shelf, or of one bottle on it. */
export function shelfAddress(lot?: string): string {
  return lot === undefined ? '#/shelf' : `#/shelf/${encodeURIComponent(lot)}`;
}

/** The address of a page of a trial. */
export function trialAddress(trial: string, at: TrialPage = 'story', query: Query = {}): string {
  const page = at === 'story' ? '' : `/${at}`;
  return `#/trials/${encodeURIComponent(trial)}${page}${searchOf(query)}`;
}

/** The address of a step of a round. */
export function stepAddress(trial: string, round: number, step: StepName, query: Query = {}): string {
  return `#/trials/${encodeURIComponent(trial)}/rounds/${round}/${step}${searchOf(query)}`;
}

/** The address of a sheet to print. */
export function printAddress(trial: string, sheet: Sheet, query: Query = {}): string {
  return `#/trials/${encodeURIComponent(trial)}/print/${sheet}${searchOf(query)}`;
}

type Query = Record<string, string | number | undefined>;

function searchOf(query: Query): string {
  const given = Object.entries(query).flatMap(([key, value]) =>
    value === undefined ? [] : [[key, String(value)]],
  );
  return given.length === 0 ? '' : `?${new URLSearchParams(given)}`;
}
