import type { z } from 'zod';
import { innerProduct } from '../../engine/numeric/dense.ts';
import { limitsOf, sayLimit } from '../../engine/region/limits.ts';
import type { OwnMix } from '../schema/api.ts';
import type { Brief } from '../schema/brief.ts';
import { byId, toBlendSpace } from '../schema/engine-shapes.ts';
import { makeFault } from '../schema/faults.ts';
import type { MixRecord } from '../store/records.ts';
import { Refusal } from './refusal.ts';

/** Slack on limits: shares come from masses that were rounded to the balance. */
const SLACK = 1e-9;

/**
 * The maker's own mixes under the given names, with their shares worked out from the grams.
 * @throws Refusal `bad-input` that names every limit of the brief that a mix breaks
 */
export function ownMixes(
  brief: Brief,
  own: readonly z.infer<typeof OwnMix>[],
  names: readonly string[],
): MixRecord[] {
  const faults = own.flatMap(({ grams }, at) => limitFaults(brief, sharesOf(brief, grams), `own[${at}]`));
  if (faults.length > 0) throw new Refusal('bad-input', faults[0]!.message, faults);
  return own.map(({ grams, settings }, at) => {
    const shares = sharesOf(brief, grams);
    const ratios = Object.fromEntries(brief.components.map(({ id }, i) => [id, shares[i]!]));
    const mix = names[at]!;
    const why = 'Set by hand on the desk.';
    return { mix, blend: mix, repeats: null, again: false, planned: { ratios, grams, settings }, why };
  });
}

function sharesOf({ components }: Brief, grams: Readonly<Record<string, number>>): number[] {
  const masses = components.map(({ id }) => (Object.hasOwn(grams, id) ? grams[id]! : 0));
  const total = masses.reduce((sum, mass) => sum + mass, 0);
  return masses.map((mass) => (total > 0 ? mass / total : 0));
}

function limitFaults(brief: Brief, shares: readonly number[], at: string) {
  const space = toBlendSpace(brief);
  const names = byId(brief.components, ({ name }) => name);
  return limitsOf(space)
    .filter((limit) => innerProduct(limit.coefficients, shares) < limit.at - SLACK)
    .map((limit) =>
      makeFault(at, shares.map((s) => Number(s.toFixed(6))).join(' : '), sayLimit(space, limit, names)),
    );
}
