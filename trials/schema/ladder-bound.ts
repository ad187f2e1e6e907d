import { EngineError } from '../../engine/errors.ts';
import type { Brief } from './brief.ts';

/** What the threshold means for a brief: shares of the blend. */
export interface ThresholdBound {
  component: string;
  /** The share up to which it stays below the threshold even at the highest dose. */
  unnoticed: number;
  /** The share from which on it lies above the threshold even at the lowest dose. */
  noticed: number;
  says: string;
}

/**
 * The bounds that a threshold (mg per litre of drink) makes of a component's share: share × grams of components in a bottle /
 * its millilitres × mL of concentrate a litre is what a litre holds.
 *
 * @throws EngineError where the brief does not hold the component, or lacks concentrate or dose
 */
export function ladderBound(brief: Brief, component: string, threshold: number): ThresholdBound {
  const { components, concentrate, drink, settings, batch } = brief;
  if (!components.some(({ id }) => id === component))
    throw new EngineError('bad-argument', 'component', component, components.map(({ id }) => id).join(', '));
  const dose = drink?.dosePerLitre;
  if (concentrate === undefined || dose === undefined)
    throw new EngineError(
      'bad-argument',
      'brief',
      brief.name,
      'concentrate.fillMillilitres and drink.dosePerLitre',
    );
  const setting = typeof dose === 'number' ? null : settings.find(({ id }) => id === dose.setting)!;
  const doses = typeof dose === 'number' ? [dose, dose] : [setting!.low, setting!.high];
  const shareAt = (perLitre: number) =>
    (threshold * concentrate.fillMillilitres) / (1000 * batch.grams * perLitre);
  const unnoticed = Math.floor(1e4 * shareAt(doses[1]!)) / 1e4;
  const noticed = Math.ceil(1e4 * shareAt(doses[0]!)) / 1e4;
  const high =
    unnoticed < 1
      ? `"high": ${unnoticed} keeps ${component} below it at every dose`
      : `no share of ${component} reaches it`;
  const low =
    noticed <= 1 ? `"low": ${noticed} keeps it above at every dose` : 'none keeps it above at every dose';
  return { component, unnoticed, noticed, says: `In the brief, ${high}; ${low}.` };
}
