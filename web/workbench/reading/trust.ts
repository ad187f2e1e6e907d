import type { AssessorReading } from '../../../engine/panel/reading-types.ts';
import { count, listed } from '../numbers.ts';
import type { AttributeReading } from '../results.ts';

/** How a taster ranks the mixes on one question beside the others. */
export type Ranking = 'as the others' | 'loosely' | 'against' | 'unknown';

/** What one taster did on every question, and the sentence that sums it up. */
export interface TasterTrust {
  assessor: string;
  sentence: string;
  /** By question, in the order of the brief. */
  marks: readonly TasterMark[];
  setAside: boolean;
}

export interface TasterMark {
  attribute: string;
  name: string;
  reading: AssessorReading | null;
  ranking: Ranking;
}

/**
 * From where on something is said. Common practice, no published source: they only choose words, nobody is dropped
 * and no estimate changes. A taster's use of the scale is the middle one over all questions, which steadies it.
 */
const LIMITS = { agrees: 0.5, less: 0.8, more: 1.25, weakly: 0.5 };

/** One row a taster. `names` gives each question its name for people. */
export function trustOf(
  attributes: readonly AttributeReading[],
  names: (id: string) => string,
): TasterTrust[] {
  const everyone = attributes.flatMap(({ assessors }) => assessors.map(({ assessor }) => assessor));
  return [...new Set(everyone)].map((assessor) => {
    const marks = attributes.map(({ id, assessors }): TasterMark => {
      const reading = assessors.find((one) => one.assessor === assessor) ?? null;
      return { attribute: id, name: names(id), reading, ranking: rankingOf(reading) };
    });
    const setAside = marks.some(({ reading }) => reading?.setAside ?? false);
    return { assessor, marks, setAside, sentence: sentenceOf(marks) };
  });
}

/** So many tasters fit on a page beside what follows; of more only some are shown at once. */
const AT_ONCE = 12;
const STAND_OUT = 5;

/**
 * Of a large panel, those who rank the mixes otherwise than the others on most questions (against them first, then loosely),
 * at most five, and all others; a panel of up to twelve is shown whole. Nobody is left out of anything but the first sight.
 */
export function standingOut(rows: readonly TasterTrust[]): { shown: TasterTrust[]; others: TasterTrust[] } {
  if (rows.length <= AT_ONCE) return { shown: [...rows], others: [] };
  const on = ({ marks }: TasterTrust, ranking: Ranking) =>
    marks.filter((mark) => mark.ranking === ranking).length;
  const shown = rows
    .filter((row) => on(row, 'against') + on(row, 'loosely') > 0)
    .sort((a, b) => on(b, 'against') - on(a, 'against') || on(b, 'loosely') - on(a, 'loosely'))
    .slice(0, STAND_OUT);
  return { shown, others: rows.filter((row) => !shown.includes(row)) };
}

/** What is said over the rows of a large panel: how many rank as the others do, and who is shown. */
export function shownSentence(rows: readonly TasterTrust[], shown: readonly TasterTrust[]): string {
  const told =
    rows[0]?.marks.filter((_, k) => rows.some(({ marks }) => marks[k]!.ranking !== 'unknown')) ?? [];
  const asked = told.map(({ attribute }) => attribute);
  const same = rows.filter(({ marks }) =>
    marks.every(({ attribute, ranking }) => ranking === 'as the others' || !asked.includes(attribute)),
  ).length;
  const start = `${same} of ${rows.length} tasters rank the mixes as the others do on every question${told.length < (rows[0]?.marks.length ?? 0) ? JUDGED : ''}.`;
  return shown.length === 0 ? start : `${start} Those who stand out most:`;
}

/** Added where a question was scored too seldom, or never. */
const JUDGED = ' that can be judged';

function rankingOf(reading: AssessorReading | null): Ranking {
  const agreement = reading?.agreement ?? null;
  if (agreement === null) return 'unknown';
  if (agreement >= LIMITS.agrees) return 'as the others';
  return agreement >= 0 ? 'loosely' : 'against';
}

function sentenceOf(marks: readonly TasterMark[]): string {
  const parts = [ranksPart(marks), scalePart(marks), weakPart(marks)].filter((part) => part !== '');
  return `${parts.join('; ')}.`;
}

function ranksPart(marks: readonly TasterMark[]): string {
  const on = (ranking: Ranking) =>
    marks.filter((mark) => mark.ranking === ranking).map(({ name }) => inSentence(name));
  const known = marks.length - on('unknown').length;
  if (known === 0) return 'Too few cups to be judged';
  const [loosely, against] = [on('loosely'), on('against')];
  if (loosely.length + against.length === 0)
    return `Ranks the mixes as the others do on every question${known < marks.length ? JUDGED : ''}`;
  if (loosely.length === known) return 'Ranks the mixes only loosely as the others do';
  if (against.length > known / 2)
    return 'Ranks the mixes against the others: ask what the words mean to them';
  const buts = [
    loosely.length > 0 ? `only loosely on ${some(loosely)}` : '',
    against.length > 0 ? `the other way round on ${some(against)}` : '',
  ].filter((part) => part !== '');
  return `Ranks the mixes as the others do, but ${buts.join(' and ')}`;
}

function scalePart(marks: readonly TasterMark[]): string {
  const usual = middle(marks.flatMap(({ reading }) => (reading?.scaling == null ? [] : [reading.scaling])));
  if (usual === null) return '';
  if (usual < LIMITS.less) return `uses less of the scale, about ${usual.toFixed(1)} of what the panel does`;
  return usual > LIMITS.more ? `uses more of the scale, about ${usual.toFixed(1)} times the panel` : '';
}

function weakPart(marks: readonly TasterMark[]): string {
  const weak = marks.filter(
    ({ reading }) => reading?.scaling != null && Math.abs(reading.scaling) < LIMITS.weakly,
  );
  return weak.length === 0 ? '' : `reacts weakly to ${some(weak.map(({ name }) => inSentence(name)))}`;
}

function some(names: readonly string[]): string {
  return names.length > 3 ? count(names.length, 'question') : listed(names);
}

function middle(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

/** A name up to its first bracket, as it stands inside a sentence. */
export function inSentence(name: string): string {
  const cut = name.split('(')[0]!.trim() || name;
  return cut.charAt(0).toLowerCase() + cut.slice(1);
}

/** The panel as a whole in one sentence. */
export function panelSentence(
  attributes: readonly AttributeReading[],
  names: (id: string) => string,
): string {
  const tested = attributes.filter(({ mixTest }) => mixTest.p !== null);
  const tells = tested.filter(({ mixTest }) => mixTest.p! < 0.05);
  if (tested.length === 0) return 'There are too few scores to say whether the panel tells the mixes apart.';
  if (tells.length === tested.length)
    return `Together the panel tells the mixes apart on every question${tested.length < attributes.length ? JUDGED : ''}.`;
  if (tells.length === 0) return 'Together the panel cannot tell these mixes apart on any question.';
  const cannot = tested.filter((one) => !tells.includes(one)).map(({ id }) => inSentence(names(id)));
  return `Together the panel tells the mixes apart on ${tells.length} of ${tested.length} questions, not on ${listed(cannot, 'or')}.`;
}

/** That tasters changed their level between sittings, each in their own way; null where it does not show. */
export function shiftsSentence(
  attributes: readonly AttributeReading[],
  names: (id: string) => string,
): string | null {
  const shown = attributes.filter(({ shifts }) => shifts?.says).map(({ id }) => inSentence(names(id)));
  if (shown.length === 0) return null;
  return (
    `From sitting to sitting tasters score higher or lower, each in their own way, on ${listed(shown)}: ` +
    'what differs there may look surer than it is.'
  );
}

/**
 * What the bottles' age did, in a sentence a question where it was counted, else the reason why it was not; empty where no
 * age is known, or all were alike.
 */
export function ageSentences(
  { attributes, age }: { attributes: readonly AttributeReading[]; age?: { status: string; says: string } },
  names: (id: string) => string,
): string[] {
  const counted = attributes.flatMap((one) => (one.age ? [`${names(one.id)}: ${one.age.says}`] : []));
  if (counted.length > 0) return counted;
  return age === undefined || age.status === 'alike' ? [] : [age.says];
}
