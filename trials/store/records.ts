import type { Claim, RoundMix, StepName, Three } from '../schema/api.ts';
import type { AnswerValue } from '../schema/ballot.ts';
import type { Brief } from '../schema/brief.ts';
import type { QuestionForm, TestForm } from '../schema/scale-form.ts';
import type { OwnLimit } from '../schema/shelf-shapes.ts';

/** A trial without its rounds. */
export interface TrialRecord {
  trial: string;
  name: string;
  demo: boolean;
  made: string;
  changed: string;
}

export interface BriefRecord {
  version: number;
  at: string;
  brief: Brief;
  warnings: string[];
}

export interface RoundRecord {
  round: number;
  briefVersion: number;
  reading: string | null;
  restHours: number;
  at: string;
}

export interface MixRecord {
  mix: string;
  blend: string;
  repeats: string | null;
  again: boolean;
  planned: RoundMix['planned'];
  why: string;
}

/** What the balance showed for one bottle; earlier weighings of the same bottle are kept. */
export interface WeighingRecord {
  round: number;
  blend: string;
  at: string;
  grams: Record<string, number>;
  note: string;
}

export interface StepMark {
  round: number;
  step: Extract<StepName, 'rest' | 'dose' | 'pour'>;
  done: boolean;
  note: string;
  at: string;
}

/** A question as it stood when the sitting was drawn. */
export interface Question {
  id: string;
  name: string;
  scale: readonly [number, number];
  /** Absent in sittings drawn before there were forms: see `formOf`. */
  form?: QuestionForm | undefined;
  words?: string[] | undefined;
}

/** How a sitting is held; what is absent is as it always was. */
export interface Manner {
  /** Finished cups may be opened again. */
  goBack?: boolean;
  /** A difference test between two drinks instead of scores: sets of cups, each answered by naming one. */
  test?: { form: TestForm; of: string; stronger: string | null; claim?: Claim };
  /** The names of the drinks stand under the cups until the last ballot is in: what each is, once for each cup. */
  hidden?: string[];
  /** Entered from old files, never served by the codes it has. */
  old?: {
    /** Whether the files say in which place each cup was tasted. */
    places: boolean;
  };
}

export interface Rests {
  betweenCups: number;
  afterFour: number;
}

export interface SittingRecord {
  sitting: string;
  round: number;
  label: string;
  state: 'poured' | 'open' | 'closed';
  key: 'sealed' | 'opened';
  /** Sealed with the key: codes and orders can be drawn again from it. */
  seed: number;
  questions: Question[];
  rests: Rests;
  manner: Manner;
  drawn: string;
  opened: string | null;
  closed: string | null;
  keyOpened: string | null;
  keyWhy: string | null;
}

export interface SeatRecord {
  assessor: string;
  place: number;
  knowing: boolean;
  position: number;
  heard: string | null;
  /** Did not come: nothing is expected of this seat. */
  absent: boolean;
}

export interface CupRecord {
  assessor: string;
  position: number;
  code: string;
  /** Empty while the name under the cup has not been read. */
  mix: string;
  replicate: string;
  /** Cups of one part are answered together; null = each by itself. */
  part: number | null;
}

/** Which seat a taster's token opens. */
export interface SeatKey {
  trial: string;
  sitting: string;
  assessor: string;
}

export interface AnswerRecord {
  message: string;
  code: string;
  question: string;
  value: AnswerValue;
  phone: string;
  count: number;
  late: boolean;
  received: string;
}

/** The answer that counts for one question about one cup. */
export interface CountedAnswer {
  assessor: string;
  code: string;
  question: string;
  value: AnswerValue;
}

export interface ReadingRecord {
  reading: string;
  kind: 'plan' | 'read' | 'next' | 'predict';
  round: number | null;
  at: string;
  seed: number;
  version: string;
  input: unknown;
  result: unknown;
}

export interface ActRecord {
  at: string;
  who: string;
  act: string;
  detail: string;
}

/** What a cookie lets its bearer do. */
export interface CookieRecord {
  role: 'maker' | 'pourer';
  trial: string | null;
  sitting: string | null;
  ends: string;
}

/** A bottle on the shelf, bought or made here, as it was entered. */
export interface LotRecord {
  lot: string;
  material: string;
  made: string;
  entry: LotEntry;
}

/** What is kept of a bottle; dates are days (`2026-03-10`), null where nobody said. */
export interface LotEntry {
  label: string;
  supplier: string;
  /** Percent by mass of the material in it. */
  strength: number;
  /** Material that it is dissolved in; null where it is not, or not said. */
  solvent: string | null;
  density: number | null;
  pricePerGram: number | null;
  opened: string | null;
  bestBefore: string | null;
  note: string;
  /** What a stock was made of; empty for a bottle that was bought. */
  parts: { lot: string | null; material: string; grams: number }[];
}

/** So many grams into a bottle, or, below 0, out of it. */
export interface LotMove {
  lot: string;
  at: string;
  grams: number;
  kind: 'came' | 'made' | 'into stock' | 'weighed' | 'put back' | 'counted';
  trial: string | null;
  round: number | null;
  blend: string | null;
  /** The component that it was weighed as. */
  part: string | null;
  /** The stock that it went into. */
  stock: string | null;
  note: string;
}

/** A ladder of doses without its cups. */
export interface LadderRecord {
  ladder: number;
  /** When it was drawn. */
  at: string;
  component: string;
  /** mg in a litre of drink, rising. */
  concentrations: number[];
  /** What the cups were drawn from; null where they were drawn elsewhere. */
  seed: number | null;
  /** Since when it is put away. */
  away: string | null;
}

export interface LadderTrayRecord {
  assessor: string;
  threes: Three[];
}

/** The cup that was called the odd one; null takes the answer before back. */
export interface LadderAnswer {
  assessor: string;
  rung: number;
  code: string | null;
  at: string;
}

/** A limit of the maker's own. */
export interface LimitRecord {
  id: number;
  entry: OwnLimit;
  /** Since when it is taken away. */
  away: string | null;
}
