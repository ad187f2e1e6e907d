import { type PlanPrice, type PricedMix, priceOfPlan } from '../../engine/design/plan-price.ts';
import type { PlanResult } from '../../engine/design/plan-types.ts';
import { smallerBatch } from '../../engine/design/smallest-batch.ts';
import { smallestShift } from '../../engine/design/smallest-shift.ts';
import type { RatioFit } from '../../engine/model/fit-types.ts';
import type { Brief } from '../schema/brief.ts';
import { byId } from '../schema/engine-shapes.ts';
import type { KnownNoise, NoticedShift, WeighedUp } from '../schema/plan-document.ts';

/** Without a statement or a fit, a score is taken to scatter by this part of the scale (common practice, no published source). */
const ASSUMED_NOISE = 0.12;

/** The noise by attribute: stated for all in scale units, found by a fit, or assumed. */
export type NoiseById = Readonly<Record<string, KnownNoise>>;

export function noiseOf(brief: Brief, stated?: number, found: NoiseById = {}): NoiseById {
  return byId(brief.attributes, ({ id, scale }): KnownNoise => {
    if (stated !== undefined) return { cup: stated, assessorByMix: 0, from: 'stated' };
    if (Object.hasOwn(found, id)) return found[id]!;
    return { cup: ASSUMED_NOISE * (scale[1] - scale[0]), assessorByMix: 0, from: 'assumed' };
  });
}

/** The scatter that a fit found, where it could be told. */
export function noiseFromFit({ attributes }: Pick<RatioFit, 'attributes'>): NoiseById {
  return Object.fromEntries(
    attributes.flatMap(({ id, variance: { residual, assessorByMix } }) =>
      residual === null || !(residual > 0)
        ? []
        : [
            [
              id,
              {
                cup: Math.sqrt(residual),
                assessorByMix: Math.sqrt(assessorByMix ?? 0),
                from: 'fit' as const,
              },
            ],
          ],
    ),
  );
}

/** What is weighed up of a plan. */
type Plan = Omit<PlanResult, 'basis'>;

export function weighUpPlan(brief: Brief, plan: Plan, noise: NoiseById): WeighedUp {
  return {
    price: priceOf(brief, plan.mixes),
    shifts: plan.judgement === null ? [] : shiftsOf(brief, plan.judgement.pairVariance, noise),
    hiddenDuplicate: duplicateOf(brief, plan),
    smallerBatch: batchOf(brief, plan),
  };
}

/** Cups beside the mixes that each taster is given with every replicate: the reference, where one is aimed at. */
export function cupsBeside({ attributes }: Brief): number {
  return attributes.some(({ target }) => target === 'reference') ? 1 : 0;
}

export function priceOf(brief: Brief, mixes: readonly PricedMix[]): PlanPrice {
  const priced = brief.components.filter(({ pricePerGram }) => pricePerGram !== undefined);
  const prices = byId(priced, ({ pricePerGram }) => pricePerGram!);
  return priceOfPlan({ mixes, prices, panel: brief.panel, cupsBeside: cupsBeside(brief) });
}

export function shiftsOf(brief: Brief, pairVariance: number, noise: NoiseById): NoticedShift[] {
  return brief.attributes.map(({ id }) => ({
    attribute: id,
    shift: smallestShift(pairVariance, noise[id]!, brief.panel),
    noise: noise[id]!,
  }));
}

/** The mix nearest to the middle, twice under two codes: it shows how well each taster repeats, at one cup each. */
function duplicateOf({ panel, components }: Brief, { mixes, corners }: Plan): WeighedUp['hiddenDuplicate'] {
  if (panel.replicates > 1) return null;
  const middle = components.map((_, i) => corners.reduce((sum, c) => sum + c[i]!, 0) / corners.length);
  const range = components.map(
    (_, i) => Math.max(...corners.map((c) => c[i]!)) - Math.min(...corners.map((c) => c[i]!)),
  );
  const away = ({ ratios }: PlanResult['mixes'][number]) =>
    components.reduce(
      (sum, { id }, i) => sum + (range[i]! > 0 ? ((ratios[id]! - middle[i]!) / range[i]!) ** 2 : 0),
      0,
    );
  const { mix } = mixes.reduce((a, b) => (away(b) < away(a) ? b : a));
  return {
    mix,
    cups: panel.assessors,
    why: `Pour ${mix} twice under two codes: it shows how well each taster repeats, for one cup more each.`,
  };
}

function batchOf(brief: Brief, { mixes }: Plan): WeighedUp['smallerBatch'] {
  const { components, batch } = brief;
  const bottles = [...new Map(mixes.map((mix) => [mix.blend, mix])).values()];
  const shares = bottles.map(({ ratios }) => components.map(({ id }) => ratios[id]!));
  const found = smallerBatch({ shares, batch, needed: neededGrams(brief, mixes), bottles: bottles.length });
  if (found === null) return null;
  const stocks = found.stocks.map(({ component, strength }) => ({
    component: components[component]!.id,
    strength,
  }));
  const names = found.stocks.map(
    ({ component, strength }) => `${components[component]!.id} at ${strength} %`,
  );
  const how = names.length > 0 ? `With stocks (${names.join(', ')}), ` : '';
  return {
    ...found,
    stocks,
    says: `${how}${found.grams} g a bottle would do instead of ${batch.grams} g, weighed as well as you ask: ${found.saves} g of material less.`,
  };
}

/** A quarter more than is poured stays in the bottle and on the way. */
const SPARE = 1.25;

/** Grams of components of the bottle that is poured most; null where the brief does not say how much is poured. */
function neededGrams({ drink, concentrate, panel, batch }: Brief, mixes: PlanResult['mixes']): number | null {
  const dose = drink?.dosePerLitre;
  if (drink === undefined || concentrate === undefined || dose === undefined) return null;
  const bottles = new Map<string, number>();
  for (const mix of mixes) {
    const perLitre = typeof dose === 'number' ? dose : mix.settings[dose.setting]!;
    const poured = (panel.assessors * panel.replicates * drink.cupMillilitres * perLitre) / 1000;
    bottles.set(mix.blend, (bottles.get(mix.blend) ?? 0) + poured);
  }
  return (SPARE * batch.grams * Math.max(...bottles.values())) / concentrate.fillMillilitres;
}
