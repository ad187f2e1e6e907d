import { type KnowledgePoint, knowledgeCurve } from '../../engine/design/knowledge-curve.ts';
import type { PlanInput, PlanTools } from '../../engine/design/plan-types.ts';
import type { Hooks } from '../../engine/hooks.ts';
import type { Brief } from '../schema/brief.ts';
import { byId } from '../schema/engine-shapes.ts';
import type { PlanOffer, PlanOffers } from '../schema/plan-document.ts';
import { cupsBeside, type NoiseById, priceOf, shiftsOf } from './weigh-up-plan.ts';

const POINTS = 12;

/**
 * Three sizes side by side: what one evening's sitting holds for whoever is present, two evenings', and enough for
 * every bend; with price against knowledge, and a curve so that the maker sees where more stops paying.
 */
export function planOffers(
  brief: Brief,
  input: PlanInput,
  { noise, hooks, ...tools }: PlanTools & { noise: NoiseById; hooks?: Hooks | undefined },
): PlanOffers {
  const sizes = offerSizes(brief);
  const curve = knowledgeCurve(
    { ...input, atMost: undefined, points: undefined, pinned: undefined },
    [...Object.values(sizes), ...pointsBetween(sizes, input.mixes)],
    tools,
    hooks,
  );
  const at = (mixes: number) => curve.find((point) => point.mixes === mixes);
  const offers = (['one-evening', 'two-evenings', 'in-depth'] as const).flatMap((offer) => {
    const point = at(sizes[offer]);
    return point === undefined ? [] : [offerOf(brief, { offer, point, noise })];
  });
  return {
    offers,
    knowledge: curve.map(({ mixes, averageVariance, pairVariance }) => ({
      ...{ mixes, averageVariance },
      shifts: shiftsOf(brief, pairVariance, noise).map(({ shift }) => shift),
    })),
  };
}

/** Mixes of the three sizes. A taster meets each mix with every replicate, and the reference where one is aimed at. */
function offerSizes(brief: Brief): Record<PlanOffer['offer'], number> {
  const { components, settings, panel } = brief;
  const q = components.length;
  const each = settings.reduce((sum, { acts }) => sum + (acts === 'each' ? q : 1), 0);
  const held = (evenings: number) =>
    Math.max(1, Math.floor((evenings * panel.cupsPerSitting) / panel.replicates) - cupsBeside(brief));
  const squares = (settings.length * (settings.length + 1)) / 2;
  const bends = (q * (q + 1)) / 2 + each + squares;
  const one = Math.max(q, held(1));
  const two = Math.max(one + 1, held(2));
  return { 'one-evening': one, 'two-evenings': two, 'in-depth': Math.max(two + 2, bends + 2) };
}

function pointsBetween(sizes: Record<PlanOffer['offer'], number>, asked: number): number[] {
  const least = sizes['one-evening'];
  const most = Math.max(sizes['in-depth'] + 2, Math.min(asked, 2 * sizes['in-depth']));
  const step = Math.max(1, Math.ceil((most - least) / POINTS));
  return Array.from({ length: Math.floor((most - least) / step) + 1 }, (_, k) => least + k * step);
}

function offerOf(
  brief: Brief,
  { offer, point, noise }: { offer: PlanOffer['offer']; point: KnowledgePoint; noise: NoiseById },
): PlanOffer {
  const poured = new Map<string, number>();
  const mixes = point.spots.map(({ shares, coded }) => {
    const blend = shares.map((share) => share.toPrecision(8)).join();
    const weighing = (poured.get(`${blend} ${coded.join()}`) ?? 0) + 1;
    poured.set(`${blend} ${coded.join()}`, weighing);
    const grams = byId(brief.components, (_, i) => Number((shares[i]! * brief.batch.grams).toFixed(4)));
    return { blend: `${blend} ${weighing}`, grams };
  });
  return {
    ...{ offer, mixes: point.mixes },
    price: priceOf(brief, mixes),
    averageVariance: point.averageVariance,
    shifts: shiftsOf(brief, point.pairVariance, noise),
  };
}
