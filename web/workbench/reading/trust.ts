import type { AssessorReading } from '../../../engine/panel/reading-types.ts';
import { count, listed } from '../numbers.ts';
import type { AttributeReading } from '../results.ts';

/** What one taster did on every attribute, and the sentence that sums it up. */
export interface TasterTrust {
  assessor: string;
  sentence: string;
  /** By attribute, in the order of the brief; null where nothing is known. */
  marks: readonly TasterMark[];
}

export interface TasterMark {
  attribute: string;
  name: string;
  reading: AssessorReading | null;
  /** Tells mixes apart in their own scores (p < 0.05); null where it cannot be judged. */
  tells: boolean | null;
}

/** One row a taster. `names` gives each attribute its name for people. */
export function trustOf(
  attributes: readonly AttributeReading[],
  names: (id: string) => string,
): TasterTrust[] {
  const people = [
    ...new Set(attributes.flatMap(({ assessors }) => assessors.map(({ assessor }) => assessor))),
  ];
  return people.map((assessor) => {
    const marks = attributes.map(({ id, assessors }): TasterMark => {
      const reading = assessors.find((one) => one.assessor === assessor) ?? null;
      const p = reading?.discrimination?.p ?? null;
      return { attribute: id, name: names(id), reading, tells: p === null ? null : p < 0.05 };
    });
    return { assessor, marks, sentence: sentenceOf(marks) };
  });
}

/** Agreement below this is called ranking differently; scaling outside these is called little or much. */
const LIMITS = { agreement: 0.3, little: 0.7, much: 1.4 };

function sentenceOf(marks: readonly TasterMark[]): string {
  const judged = marks.filter(({ tells }) => tells !== null);
  const readings = marks.flatMap((mark) =>
    mark.reading === null ? [] : [{ ...mark, reading: mark.reading }],
  );
  const against = readings.filter(
    ({ reading }) => reading.agreement !== null && reading.agreement < LIMITS.agreement,
  );
  const scaling = middle(
    readings.flatMap(({ reading }) => (reading.scaling === null ? [] : [reading.scaling])),
  );
  return [
    tellsPart(judged),
    agreesPart(
      readings.length,
      against.map(({ name }) => name),
    ),
    usesPart(scaling),
  ]
    .filter((part) => part !== '')
    .join(' ');
}

function tellsPart(judged: readonly TasterMark[]): string {
  if (judged.length === 0) return 'Too few cups to say whether they tell mixes apart.';
  const can = judged.filter(({ tells }) => tells);
  if (can.length === judged.length) return 'Tells the mixes apart on every question.';
  if (can.length === 0) return 'Does not tell the mixes apart on any one question alone.';
  if (can.length <= judged.length / 2)
    return `Tells the mixes apart on ${listed(can.map(({ name }) => short(name)))}.`;
  const cannot = judged.filter(({ tells }) => !tells);
  return `Tells the mixes apart, but not on ${listed(
    cannot.map(({ name }) => short(name)),
    'or',
  )}.`;
}

function agreesPart(all: number, against: readonly string[]): string {
  if (all === 0) return '';
  if (against.length === 0) return 'Ranks them as the others do.';
  if (against.length === all)
    return 'Ranks them differently from the others: ask what they understand by the words.';
  if (against.length > 3)
    return `Ranks them differently from the others on ${count(against.length, 'question')}.`;
  return `Ranks them differently from the others on ${listed(against.map(short))}.`;
}

function usesPart(scaling: number | null): string {
  if (scaling === null) return '';
  if (scaling < LIMITS.little) return 'Uses little of the scale.';
  return scaling > LIMITS.much ? 'Uses more of the scale than the others.' : '';
}

function middle(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

/** A long name up to its first bracket or comma, in lower case for the middle of a sentence. */
function short(name: string): string {
  const cut = name.split(/[(]/)[0]!.trim();
  return cut.charAt(0).toLowerCase() + cut.slice(1);
}

/** The panel as a whole in one sentence. */
export function panelSentence(
  attributes: readonly AttributeReading[],
  names: (id: string) => string,
): string {
  const tested = attributes.filter(({ mixTest }) => mixTest !== null && mixTest.p !== null);
  const tells = tested.filter(({ mixTest }) => mixTest!.p! < 0.05);
  if (tested.length === 0) return 'There are too few scores to say whether the panel tells the mixes apart.';
  if (tells.length === tested.length) return 'Together the panel tells the mixes apart on every question.';
  if (tells.length === 0) return 'Together the panel cannot tell these mixes apart on any question.';
  const cannot = tested.filter((one) => !tells.includes(one)).map(({ id }) => short(names(id)));
  return `Together the panel tells the mixes apart on ${tells.length} of ${tested.length} questions, not on ${listed(cannot, 'or')}.`;
}
