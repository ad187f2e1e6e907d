import { studentTwoSided } from '../numeric/student.ts';
import type { AssessorReading, PanelBackground } from './reading-types.ts';

/**
 * From where on a figure is spoken of. Common practice, no published source: they only choose words, nobody is
 * dropped and no estimate changes.
 */
const WORTH_SAYING = {
  agrees: 0.5,
  tellsApart: 0.1,
  drifts: 0.01,
  littleScale: 0.7,
  hardlyReacts: 0.35,
  wideScale: 1.4,
  offsetShare: 0.08,
  unsteady: 1.5,
} as const;

type Figures = AssessorReading & { constant: boolean; mixes: number };

/** One sentence on one assessor and attribute, in the order: level, ranking, use of the scale, steadiness, drift. */
export function sayAssessor(
  own: Figures,
  all: readonly Pick<AssessorReading, 'repeatability'>[],
  background: PanelBackground,
): string {
  const name = own.assessor;
  if (own.constant) return `${name} gave every cup the same score: no mix can be told from another by it.`;
  if (own.cups < 2 || (own.agreement === null && own.discrimination.f === null && own.scaling === null))
    return `${name} has too few cups here to be judged.`;
  const level = sayLevel(own, background);
  const ranking = sayRanking(own, background);
  const rest = [sayScale(own, background), saySteadiness(own, all), sayDrift(own)].filter((s) => s !== null);
  const agrees = own.agreement !== null && own.agreement >= WORTH_SAYING.agrees;
  const opening = level
    ? ranking
      ? `${level}${agrees ? ', but ' : ' and '}${ranking}`
      : level
    : (ranking ?? 'scores as the panel does');
  return `${name} ${[opening, ...rest].join('; ')}.`;
}

function sayLevel({ offset }: Figures, { scaleLength }: PanelBackground): string | null {
  if (offset === null || Math.abs(offset) < WORTH_SAYING.offsetShare * scaleLength) return null;
  return `scores everything about ${figure(Math.abs(offset))} ${offset > 0 ? 'higher' : 'lower'} than the panel`;
}

function sayRanking(own: Figures, { mixesDiffer }: PanelBackground): string | null {
  const { agreement, discrimination, scaling, mixes } = own;
  const { p } = discrimination;
  if (!mixesDiffer && !isClear(agreement, mixes))
    return p !== null && p < WORTH_SAYING.tellsApart / 2
      ? 'finds differences between the mixes that the panel does not'
      : null;
  if (scaling !== null && scaling < WORTH_SAYING.hardlyReacts && scaling > -WORTH_SAYING.hardlyReacts)
    return 'hardly reacts to what the others find different';
  if (agreement === null)
    return p === null
      ? null
      : p < WORTH_SAYING.tellsApart
        ? 'tells the mixes apart'
        : 'does not tell the mixes apart';
  if (agreement >= WORTH_SAYING.agrees) return 'ranks the mixes as the others do';
  if (agreement >= 0) return 'ranks the mixes only loosely as the others do';
  return 'ranks the mixes against the others';
}

/** Whether a correlation over this many mixes is away from zero at 0.05 (Student's t on mixes - 2). */
function isClear(agreement: number | null, mixes: number): boolean {
  if (agreement === null || mixes < 3) return false;
  const left = 1 - agreement ** 2;
  return left <= 0 || studentTwoSided(agreement * Math.sqrt((mixes - 2) / left), mixes - 2) < 0.05;
}

function sayScale({ scaling, agreement }: Figures, { mixesDiffer }: PanelBackground): string | null {
  if (!mixesDiffer || scaling === null || (agreement ?? 0) < WORTH_SAYING.agrees) return null;
  if (scaling < WORTH_SAYING.hardlyReacts) return null;
  if (scaling < WORTH_SAYING.littleScale) return 'uses little of the scale';
  return scaling > WORTH_SAYING.wideScale ? 'uses more of the scale than the panel' : null;
}

function saySteadiness(own: Figures, all: readonly Pick<AssessorReading, 'repeatability'>[]): string | null {
  const known = all.flatMap(({ repeatability }) => (repeatability === null ? [] : [repeatability]));
  if (own.repeatability === null || known.length < 3) return null;
  const middle = known.sort((a, b) => a - b)[Math.floor((known.length - 1) / 2)]!;
  if (own.repeatability <= WORTH_SAYING.unsteady * middle) return null;
  return `repeats itself less closely than the others (by ${figure(own.repeatability)}, usual is ${figure(middle)})`;
}

function sayDrift({ drift }: Figures): string | null {
  return drift.p !== null && drift.p < WORTH_SAYING.drifts
    ? 'shifts its level from one session to the next'
    : null;
}

/** Two figures are enough in a sentence. */
function figure(value: number): string {
  return String(Number(value.toPrecision(2)));
}
