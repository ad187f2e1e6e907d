import { withAge } from './age-at-tasting.ts';
import { readAnswers } from './answers/read-answers.ts';
import { checkScores } from './check-scores.ts';
import { type Cups, cupsOf, isAnalysed } from './cups.ts';
import { likingWith } from './map/liking-with.ts';
import { MixModels } from './mix-model.ts';
import { readAttribute } from './read-attribute.ts';
import type { PanelInput, PanelReading } from './reading-types.ts';
import { suspectBallots } from './suspect-ballots.ts';

/**
 * How the panel worked, attribute by attribute: a mixed model by restricted maximum likelihood with mix (the
 * reference among them) as a fixed factor and assessor, assessor by mix and session as random ones, each only where
 * the cups can hold it. Warm-up cups are left out. What cannot be estimated is null and has a reason.
 *
 * @param input servings with scores in the order of `attributes`; assessors set aside are measured against the
 *   others but do not take part, and `withEveryone` shows the reading as if they did
 * @throws EngineError where a serving has another number of scores than there are attributes
 *
 * Sources: ISO 11132 for what is looked at; Bates, Maechler, Bolker and Walker 2015 for the criterion; Kuznetsova,
 * Brockhoff and Christensen 2017 for the tests; Tukey and Kramer for all pairs.
 */
export function readPanel(input: PanelInput): PanelReading {
  const { servings, attributes, df = 'satterthwaite', adjust, assessorBySession } = input;
  checkScores(input);
  const setAside = new Set(input.assessorsSetAside ?? []);
  const models = new MixModels();
  const shiftedModels = new MixModels();
  const beside = { adjust, assessorBySession };
  const readings = attributes.map((attribute, at) => ({
    ...readAttribute({ servings, attribute, at, setAside, df, models, shiftedModels, beside }),
    ...readAnswers(servings, attributes, at, setAside),
  }));
  const age = ageOf(input, setAside);
  const liking = attributes.find(({ answered }) => answered === 'liking');
  return {
    attributes: readings,
    ...(liking && attributes.length > 1 ? { liking: likingWith(readings, liking.id) } : {}),
    ...(age ? { age } : {}),
    warnings: panelWarnings(input, setAside),
  };
}

/** By the attribute that was scored on the most cups. */
function ageOf({ servings, attributes }: PanelInput, setAside: ReadonlySet<string>) {
  const fullest = attributes
    .map((_, at) => cupsOf(servings, at, setAside))
    .reduce<Cups | null>((most, cups) => (most && most.y.length >= cups.y.length ? most : cups), null);
  return fullest && withAge(servings, fullest).age;
}

function panelWarnings({ servings, attributes }: PanelInput, setAside: ReadonlySet<string>): string[] {
  const present = new Set(servings.filter(isAnalysed).map((s) => s.assessor));
  const absent = [...setAside].filter((name) => !present.has(name));
  const kept = [...present].filter((name) => !setAside.has(name));
  const warnings = suspectBallots(servings, attributes);
  if (absent.length > 0) warnings.push(`set aside but not in the scores: ${absent.join(', ')}`);
  if (present.size > 0 && kept.length === 0)
    warnings.push('every assessor is set aside: nothing is left to read');
  if (attributes.every((_, at) => cupsOf(servings, at, setAside).y.length === 0))
    warnings.push('there is no score to read');
  return warnings;
}
