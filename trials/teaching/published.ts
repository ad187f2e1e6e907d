/** A published mixture experiment whose answer is known. */
export interface MixtureLesson {
  id: string;
  title: string;
  /** What was measured, and in what. */
  response: { name: string; unit: string };
  components: readonly { id: string; name: string }[];
  runs: readonly { shares: readonly number[]; value: number }[];
  find: string;
  /** Terms with the coefficients that the source prints, or that were computed elsewhere: `by` says which. */
  answer: { says: string; coefficients: Readonly<Record<string, number>>; by: string };
  source: string;
}

/** Mixture experiments with three components each. */
export const MIXTURE_LESSONS: readonly MixtureLesson[] = [
  {
    id: 'yarn',
    title: 'Which blend of three polymers makes the stretchiest yarn?',
    response: { name: 'elongation', unit: 'kg of force' },
    components: [
      { id: 'x1', name: 'polyethylene' },
      { id: 'x2', name: 'polystyrene' },
      { id: 'x3', name: 'polypropylene' },
    ],
    runs: [
      { shares: [0, 0, 1], value: 16.8 },
      { shares: [0, 0, 1], value: 16.0 },
      { shares: [0, 0.5, 0.5], value: 10.0 },
      { shares: [0, 0.5, 0.5], value: 9.7 },
      { shares: [0, 0.5, 0.5], value: 11.8 },
      { shares: [0, 1, 0], value: 8.8 },
      { shares: [0, 1, 0], value: 10.0 },
      { shares: [0.5, 0, 0.5], value: 17.7 },
      { shares: [0.5, 0, 0.5], value: 16.4 },
      { shares: [0.5, 0, 0.5], value: 16.6 },
      { shares: [0.5, 0.5, 0], value: 15.0 },
      { shares: [0.5, 0.5, 0], value: 14.8 },
      { shares: [0.5, 0.5, 0], value: 16.1 },
      { shares: [1, 0, 0], value: 11.0 },
      { shares: [1, 0, 0], value: 12.4 },
    ],
    find: 'Which pair does better together than alone, which worse? Where would you spin?',
    answer: {
      says: 'Polyethylene with polystyrene and polyethylene with polypropylene gain together; polystyrene with polypropylene lose.',
      coefficients: { x1: 11.7, x2: 9.4, x3: 16.4, 'x1*x2': 19.0, 'x1*x3': 11.4, 'x2*x3': -9.6 },
      by: 'as the handbook prints them',
    },
    source:
      'NIST/SEMATECH e-Handbook of Statistical Methods, section 5.5.4.2, Table 5.4, after J. A. Cornell, Experiments with Mixtures (Wiley 1990).',
  },
  {
    id: 'sweet',
    title: 'Three sweeteners: does a blend beat each alone?',
    response: { name: 'sweetness', unit: 'points of a taste panel' },
    components: [
      { id: 'x1', name: 'sweetener 1' },
      { id: 'x2', name: 'sweetener 2' },
      { id: 'x3', name: 'sweetener 3' },
    ],
    runs: [
      { shares: [1, 0, 0], value: 10.1 },
      { shares: [1, 0, 0], value: 10.7 },
      { shares: [0, 1, 0], value: 5.8 },
      { shares: [0, 1, 0], value: 6.5 },
      { shares: [0, 0, 1], value: 4.2 },
      { shares: [0, 0, 1], value: 3.6 },
      { shares: [0.5, 0.5, 0], value: 14.5 },
      { shares: [0.5, 0.5, 0], value: 15.4 },
      { shares: [0.5, 0.5, 0], value: 15.0 },
      { shares: [0.5, 0, 0.5], value: 12.9 },
      { shares: [0.5, 0, 0.5], value: 12.0 },
      { shares: [0.5, 0, 0.5], value: 11.6 },
      { shares: [0, 0.5, 0.5], value: 11.6 },
      { shares: [0, 0.5, 0.5], value: 13.0 },
      { shares: [0, 0.5, 0.5], value: 12.2 },
    ],
    find: 'How much sweeter is the best blend than the sweetest of the three alone?',
    answer: {
      says: 'All three pairs gain together. The best blend is near 46 : 36 : 18 with 15.7 points, half as much again as the sweetest alone.',
      coefficients: {
        x1: 10.4,
        x2: 6.15,
        x3: 3.9,
        'x1*x2': 26.766667,
        'x1*x3': 20.066667,
        'x2*x3': 28.966667,
      },
      by: 'computed apart from this program by least squares; the blend by a grid of thousandths',
    },
    source:
      'J. A. Cornell, Experiments with Mixtures, artificial-sweetener example; data as stored in the public repository tejasvbedi95/Simulation-based-Critical-Point-for-Simplex-Lattice-Designs. What the sweeteners are called is left out, since it was not in the file.',
  },
];

/** Bitterness of white wine in five categories, nine judges, eight bottles: warm or cold, with the skins or without. */
export const WINE = {
  title: 'What makes a white wine bitter: warmth or the skins?',
  find: 'Warm or cold pressing, juice in contact with the skins or not: which moves bitterness, and which more?',
  /** Each judge's ratings, 1 = least bitter, bottle by bottle. */
  ratings: [
    '23344455',
    '12132354',
    '23325544',
    '32323253',
    '23433333',
    '32322454',
    '11222323',
    '22233334',
    '12323244',
  ],
  bottles: [
    { warm: false, skins: false },
    { warm: false, skins: false },
    { warm: false, skins: true },
    { warm: false, skins: true },
    { warm: true, skins: false },
    { warm: true, skins: false },
    { warm: true, skins: true },
    { warm: true, skins: true },
  ],
  answer: {
    says: 'Both do, warmth the more: judges held apart, warmth moves a rating by 3.06 logits, the skins by 1.84.',
    warm: 3.063,
    skins: 1.835,
    by: 'as the tutorial of the R package ordinal prints them (one point of quadrature, judges random)',
  },
  source:
    'J. H. Randall, The analysis of sensory data by generalized linear model, Biometrical Journal 31 (1989) 781-793.',
} as const;
