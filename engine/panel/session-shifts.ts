import { chiSquareUpper } from '../numeric/chi-square.ts';
import type { Cups } from './cups.ts';
import type { MixModels } from './mix-model.ts';
import type { MixedFit } from './mixed/types.ts';
import { ASSESSOR_BY_SESSION } from './random-effects.ts';

/** A warning is given below this; it is looked for in each attribute. Common practice, no published source. */
const SHOWS = 0.01;

/** Whether assessors shift their levels from session to session, each in a way of their own. */
export interface SessionShifts {
  /** Variance of assessor by session, 0 where none is found. */
  variance: number;
  /** Twice the gain in restricted log-likelihood. */
  statistic: number;
  p: number;
  /** The warning; null where they do not show. */
  says: string | null;
}

/**
 * The restricted likelihood ratio test of the variance of assessor by session, whose null value lies on the border of
 * what a variance may be: half the time nothing is gained, else chi-square with one degree of freedom, so
 * p = ½ P(χ²₁ > 2 Δl), and 1 where nothing is gained. Null with one session, where the model holds these shifts already,
 * and where the cups cannot tell them (nobody came twice, or with one cup a session they are the noise of a cup).
 *
 * The tail is that of many assessors and sessions; with few nothing is gained more than half the time, and p is too large
 * rather than too small (Crainiceanu and Ruppert 2004, J. R. Stat. Soc. B 66, 165-185).
 *
 * @param fit the same cups without the shifts
 * @param models fits with the shifts, shared by attributes
 *
 * Source: Self and Liang 1987, J. Am. Stat. Assoc. 82, 605-610, case 5; for restricted likelihoods of models with the same
 * fixed part Stram and Lee 1994, Biometrics 50, 1171-1177.
 */
export function sessionShifts(cups: Cups, fit: MixedFit, models: MixModels): SessionShifts | null {
  if (cups.assessorsBySession || cups.sessions.length < 2 || cups.assessors.length < 2) return null;
  if (fit.status !== 'estimated') return null;
  const { fit: shifted } = models.fit({ ...cups, assessorsBySession: true });
  const variance = shifted.variances[ASSESSOR_BY_SESSION] ?? null;
  if (shifted.status !== 'estimated' || variance === null) return null;
  const gain = shifted.logRestrictedLikelihood! - fit.logRestrictedLikelihood!;
  const statistic = variance === 0 ? 0 : Math.max(0, 2 * gain);
  const p = statistic > 0 ? chiSquareUpper(statistic, 1) / 2 : 1;
  return { variance, statistic, p, says: p < SHOWS ? sentence(variance) : null };
}

function sentence(variance: number): string {
  const spread = Number(Math.sqrt(variance).toPrecision(2));
  return (
    `assessors shift their levels from session to session, each by about ${spread}: errors may be told too small; ` +
    'read with --assessor-by-session'
  );
}
