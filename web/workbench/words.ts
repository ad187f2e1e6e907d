import type { StepName } from '../../trials/schema/api.ts';

/** What a word means, in one sentence; the page shows it on hover, focus or tap. */
export const TERMS = {
  chance:
    'How often, in 100 draws of what the panel’s scores leave possible, this panel’s average lies within tolerance on every aimed attribute at once. It counts that a target is named because it can probably be met.',
  distance:
    'How far from the target, over all aimed attributes: the root of the weighted mean of the squared misses, each in percent of its scale.',
  tolerance: 'How far off the target still counts as a match, in points of the scale.',
  readability: 'The smallest step your scale shows, in grams.',
  ladder:
    'Halfway, in proportion, between the strongest rung that was missed and the next one (ASTM E679); the group’s is the geometric mean.',
  repeats:
    'How far readings of one and the same load scatter. It says more of a scale than the smallest step that it shows.',
  share: 'The part of the blend’s mass that a component makes up, as it is named in the brief.',
  carrier: 'The alcohol the concentrate is made up with.',
  code: 'The random three-digit number on a cup: all that a taster sees of a mix.',
  key: 'The list of which code was which mix. Opening it while people taste ends the blinding; it is kept on record.',
  interval: 'With 95 % confidence the panel’s own average lies inside this whisker.',
  standardError: 'How far an estimate would typically lie off if the same panel tasted everything anew.',
  rest: 'The time a mix stands before it is tasted; all mixes of a round should be equally old.',
  setting: 'Something varied beside the blend, such as the dose in the drink.',
  batch: 'The mass of all components together in one mix.',
  stock: 'A component already diluted in the carrier, for amounts too small to weigh.',
  reference: 'The drink to be matched. It is poured blind among the mixes.',
  knowing: 'Someone who knows the formula. Their scores are read with and without.',
  warmup: 'A first cup to get used to the questions. It is never counted.',
  again: 'An earlier mix poured once more under its own name.',
  replicates: 'How many times each taster gets every mix at one sitting.',
  bracket: 'Mixes joined by one bracket cannot be told apart by this panel.',
  cox: 'The component is raised while all others give way in proportion to what they are.',
  discrimination: 'Whether the taster’s own scores tell the mixes apart.',
  repeatability: 'How far two scores of the same mix by the same taster lie apart, typically.',
  agreement: 'How well the taster ranks the mixes as the others do: 1 is perfectly, 0 not at all.',
  scaling: 'How much of the scale the taster uses against the panel: 1 is as much, 0.5 half as much.',
  model: 'The kind of curve that ties the ratios to the scores.',
  averageVariance:
    'How uncertain a prediction is on average over all allowed ratios, in units of the variance of one cup. Smaller is better.',
  maximumVariance: 'The same at the worst allowed ratio.',
  logDeterminant: 'How much the plan pins down all terms together. Larger is better.',
} as const;
export type TermName = keyof typeof TERMS;

/** The steps of a round as the spine names them. */
export const STEPS = {
  plan: 'Plan',
  weigh: 'Weigh',
  rest: 'Rest',
  dose: 'Dose',
  pour: 'Pour',
  taste: 'Taste',
  read: 'Read',
} as const satisfies Record<StepName, string>;

/** Models in words of the bench; their textbook names stand behind. */
export const MODELS: Record<string, string> = {
  linear: 'each pulls by itself (linear)',
  quadratic: 'pairs act together (quadratic)',
  'special-cubic': 'pairs and threes (special cubic)',
  'full-cubic': 'threes, lopsided pairs (full cubic)',
  'log-ratio': 'ratios on a log scale (log-ratio)',
  process: 'a smooth curve without a fixed form (Gaussian process)',
};
