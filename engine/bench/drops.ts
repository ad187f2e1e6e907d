import { EngineError } from '../errors.ts';
import { type Balance, weighingUncertainty } from './balance.ts';

export interface DropWeighing {
  /** How many drops were counted; twenty are usual. */
  drops: number;
  /** What they weighed together. */
  grams: number;
}

export interface DropSize {
  /** Grams of one drop out of this bottle, held the same way. */
  gramsPerDrop: number;
  /** One standard uncertainty of it, as a fraction: the spread between weighings, at least what the balance leaves. */
  relativeError: number;
  /** Standard deviation of a drop between weighings, grams; null after a single weighing. */
  spread: number | null;
  /** mL at 20 °C; null without a density. */
  millilitresPerDrop: number | null;
}

/**
 * What a drop of one bottle weighs, from one or more weighings of so many drops each. There is no universal drop:
 * it changes with tip, liquid and hand (USP <1101>: within 15 % even for a calibrated dropper).
 *
 * @param density g/mL of the liquid, where known
 * @throws EngineError without a weighing, or where one is not above 0
 */
export function calibrateDrops(
  weighings: readonly DropWeighing[],
  balance: Balance,
  density: number | null = null,
): DropSize {
  weighings.forEach(requireWeighing);
  const drops = weighings.reduce((sum, one) => sum + one.drops, 0);
  if (drops === 0) throw new EngineError('bad-argument', 'weighings', weighings, 'at least one weighing');
  const gramsPerDrop = weighings.reduce((sum, { grams }) => sum + grams, 0) / drops;
  const spread = spreadOf(weighings, gramsPerDrop);
  const fromBalance = (Math.sqrt(weighings.length) * weighingUncertainty(balance)) / drops;
  const fromSpread = spread === null ? 0 : spread / Math.sqrt(weighings.length);
  return {
    gramsPerDrop,
    relativeError: Math.max(fromBalance, fromSpread) / gramsPerDrop,
    spread,
    millilitresPerDrop: density === null ? null : gramsPerDrop / density,
  };
}

/** Standard deviation of the drop's mean mass between weighings, each counted by its drops. */
function spreadOf(weighings: readonly DropWeighing[], mean: number): number | null {
  if (weighings.length < 2) return null;
  const average = weighings.reduce((sum, { drops }) => sum + drops, 0) / weighings.length;
  const squares = weighings.reduce((sum, { drops, grams }) => sum + drops * (grams / drops - mean) ** 2, 0);
  return Math.sqrt(squares / average / (weighings.length - 1));
}

function requireWeighing({ drops, grams }: DropWeighing, index: number): void {
  if (!(Number.isInteger(drops) && drops > 0))
    throw new EngineError('bad-argument', `weighings[${index}].drops`, drops, 'a whole number above 0');
  if (!(grams > 0 && Number.isFinite(grams)))
    throw new EngineError('bad-argument', `weighings[${index}].grams`, grams, 'a mass above 0');
}
