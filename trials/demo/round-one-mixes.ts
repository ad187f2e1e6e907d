/** One mix of the demo's first round: what was planned, what the balance showed, when it was stirred. */
export interface RoundOneMix {
  mix: string;
  /** Mixes that share a blend came out of one bottle. */
  blend: string;
  /** The mix this one is a fresh weighing of. */
  repeats: string | null;
  planned: Record<string, number>;
  weighed: Record<string, number>;
  /** Millilitres of concentrate per litre of drink. */
  dose: number;
  /** Hours from the first weighing of the round to the stirring of this mix. */
  mixedAtHours: number;
  sitting: string;
  note: string;
}

/** The four sittings, with the hours from the first weighing to the first cup: two a night, on two nights. */
export const ROUND_ONE_SITTINGS: readonly { label: string; tastedAtHours: number }[] = [
  { label: 'Tuesday 1', tastedAtHours: 48 },
  { label: 'Tuesday 2', tastedAtHours: 49 },
  { label: 'Thursday 1', tastedAtHours: 96 },
  { label: 'Thursday 2', tastedAtHours: 97 },
];

const [TUESDAY_FIRST, TUESDAY_SECOND, THURSDAY_FIRST, THURSDAY_SECOND] = ROUND_ONE_SITTINGS.map(
  ({ label }) => label,
) as [string, string, string, string];

type Five = readonly [peel: number, noot: number, thiol: number, pink: number, quassia: number];

const grams = ([peel, noot, thiol, pink, quassia]: Five) => ({ peel, noot, thiol, pink, quassia });

interface Bottle {
  planned: Record<string, number>;
  weighed: Record<string, number>;
}

const bottle = (planned: Five, weighed: Five): Bottle => ({
  planned: grams(planned),
  weighed: grams(weighed),
});

/*
 * How the ratios were made, once, before anything was tasted: eight blends and twelve doses by coordinate exchange
 * over about 4,700 random feasible weighings, among them many pushed to the edge of the region. Score: log
 * determinant for the linear model crossed with the dose, with prior information of 0.5 on the products of two (DuMouchel and
 * Jones 1994), plus twice the smallest distance between two blends, each share scaled by its range. Held fixed: a
 * blend near the middle (m5), its fresh weighing (m9), and pink pepper at 0.61 g in m3. The weighed grams carry
 * invented slips of up to 0.01 g, and one of 0.10 g.
 */
const B1 = bottle([0.8, 0.4, 0.6, 1.2, 1.0], [0.8, 0.41, 0.6, 1.21, 1.0]);
const B2 = bottle([1.27, 1.6, 0.72, 0.21, 0.2], [1.27, 1.6, 0.72, 0.22, 0.2]);
const B3 = bottle([1.99, 1.0, 0.2, 0.61, 0.2], [1.99, 1.0, 0.21, 0.71, 0.2]);
const B4 = bottle([1.91, 0.4, 0.72, 0.2, 0.77], [1.92, 0.4, 0.72, 0.2, 0.76]);
const B5 = bottle([1.42, 0.92, 0.46, 0.66, 0.54], [1.42, 0.92, 0.46, 0.65, 0.54]);
const B6 = bottle([0.8, 1.49, 0.72, 0.79, 0.2], [0.81, 1.5, 0.72, 0.78, 0.2]);
const B7 = bottle([0.93, 1.6, 0.2, 0.27, 1.0], [0.93, 1.6, 0.21, 0.28, 1.0]);
const B8 = bottle([1.8, 0.58, 0.22, 1.2, 0.2], [1.81, 0.58, 0.22, 1.19, 0.21]);
const B9 = bottle([1.42, 0.92, 0.46, 0.66, 0.54], [1.42, 0.91, 0.45, 0.65, 0.54]);

const plain = { repeats: null, note: '' };

/** The twelve mixes of round 1, from nine bottles: m10, m11 and m12 are m1, m4 and m7 at another dose. */
export const ROUND_ONE_MIXES: readonly RoundOneMix[] = [
  { mix: 'm1', blend: 'm1', ...B1, dose: 0.33, mixedAtHours: 0, sitting: TUESDAY_FIRST, ...plain },
  { mix: 'm2', blend: 'm2', ...B2, dose: 0.17, mixedAtHours: 48, sitting: THURSDAY_SECOND, ...plain },
  {
    mix: 'm3',
    blend: 'm3',
    ...B3,
    dose: 0.17,
    mixedAtHours: 0,
    sitting: TUESDAY_SECOND,
    repeats: null,
    note: 'Pink pepper: 0.71 g went in for 0.61 g planned. Kept as weighed.',
  },
  { mix: 'm4', blend: 'm4', ...B4, dose: 0.17, mixedAtHours: 48, sitting: THURSDAY_FIRST, ...plain },
  { mix: 'm5', blend: 'm5', ...B5, dose: 0.25, mixedAtHours: 0, sitting: TUESDAY_FIRST, ...plain },
  { mix: 'm6', blend: 'm6', ...B6, dose: 0.33, mixedAtHours: 48, sitting: THURSDAY_FIRST, ...plain },
  { mix: 'm7', blend: 'm7', ...B7, dose: 0.33, mixedAtHours: 0, sitting: TUESDAY_SECOND, ...plain },
  {
    mix: 'm8',
    blend: 'm8',
    ...B8,
    dose: 0.33,
    mixedAtHours: 77,
    sitting: THURSDAY_SECOND,
    repeats: null,
    note: 'Tasted 20 h old among mixes of 48 h: weighed late.',
  },
  {
    mix: 'm9',
    blend: 'm9',
    ...B9,
    dose: 0.25,
    mixedAtHours: 48,
    sitting: THURSDAY_FIRST,
    repeats: 'm5',
    note: 'A fresh weighing of m5.',
  },
  { mix: 'm10', blend: 'm1', ...B1, dose: 0.17, mixedAtHours: 0, sitting: TUESDAY_SECOND, ...plain },
  { mix: 'm11', blend: 'm4', ...B4, dose: 0.33, mixedAtHours: 48, sitting: THURSDAY_SECOND, ...plain },
  { mix: 'm12', blend: 'm7', ...B7, dose: 0.17, mixedAtHours: 0, sitting: TUESDAY_FIRST, ...plain },
];
