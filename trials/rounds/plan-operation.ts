import type { Limit } from '../../engine/bench/limits.ts';
import type { Criterion, PlanBasis, PlannedPlace } from '../../engine/design/plan-types.ts';
import type { PointSet } from '../../engine/design/simplex-points.ts';
import type { PlannedModel } from '../../engine/design/terms.ts';
import type { Hooks } from '../../engine/hooks.ts';
import type { WeighedMix } from '../../engine/region/weighed-mix.ts';
import type { Brief } from '../schema/brief.ts';
import type { PlanDocument, PlanOffers } from '../schema/plan-document.ts';
import { shelfOf } from '../shelf/shelf.ts';
import type { ShelfMaterial } from '../shelf/shelf-schema.ts';
import { documentOf, spaceOf, type Tools } from './documents.ts';
import { judgeBrief } from './judge-brief.ts';
import { planOffers } from './plan-offers.ts';
import { planInThreads } from './plan-threads.ts';
import { type ThriftAsked, thriftFor, thriftShown } from './plan-thrift.ts';
import { type RehearsalRequest, rehearsePlan } from './rehearse-plan.ts';
import { cupsBeside, type NoiseById, noiseOf, weighUpPlan } from './weigh-up-plan.ts';

export interface PlanRequest extends ThriftAsked {
  brief: Brief;
  mixes: number;
  model?: PlannedModel | undefined;
  criterion?: Criterion | undefined;
  replicated?: number | undefined;
  already?: readonly WeighedMix[] | undefined;
  pinned?: readonly PlannedPlace[] | undefined;
  forbidden?: readonly PlannedPlace[] | undefined;
  /** A published set of points, where the region is a simplex. */
  points?: PointSet | undefined;
  /** Mixes on Cox's directions alone, which tell who belongs in the blend at all. */
  screen?: boolean | undefined;
  /** Mixes poured from each bottle, at different settings. */
  perBottle?: number | undefined;
  /** Most grams of a component in all new mixes together, by id. */
  atMost?: Readonly<Record<string, number>> | undefined;
  /** Sittings of each taster; default as many as the brief's cups per sitting ask for. */
  sittings?: number | undefined;
  /** Scatter of one score in scale units, for all attributes. */
  noise?: number | undefined;
  /** Scatter that a fit found, by attribute. */
  foundNoise?: NoiseById | undefined;
  /** Adds three sizes of plan side by side and knowledge against the number of mixes. */
  compare?: boolean | undefined;
  /** Plays the plan on invented truths before anything is weighed. */
  rehearse?: RehearsalRequest | undefined;
  seed: number;
  /** The maker's own materials, before those of the starter shelf. */
  shelf?: readonly ShelfMaterial[] | undefined;
  /** Limits of the maker's own, beside the starter list's. */
  limits?: readonly Limit[] | undefined;
  warnings?: readonly string[] | undefined;
}

/** The share of the time that planning takes where a rehearsal follows. */
const PLANNING = 0.15;

/** Progress of a step that takes its part of the whole. */
function part(hooks: Hooks | undefined, from: number, to: number): Hooks {
  return {
    progress: (share, doing) => hooks?.progress?.(from + (to - from) * share, doing),
    cancelled: () => hooks?.cancelled?.() ?? false,
  };
}

/** What only a comparison adds. */
const NOTHING_MORE: Partial<PlanOffers & { basis: PlanBasis }> = {};

/** The first, or an additional, set of mixes over the whole allowed region, with what it costs and would show. */
export async function planOperation(
  request: PlanRequest,
  { solver, hooks, workers = 1 }: Tools,
): Promise<PlanDocument> {
  const { brief, mixes, model, criterion, replicated, already, pinned, forbidden, seed, shelf } = request;
  const sittings = request.sittings ?? sittingsNeeded(brief, mixes);
  const input = {
    ...{ ...spaceOf(brief), mixes, model, criterion, replicated, already },
    ...{ pinned, forbidden, atMost: request.atMost, points: request.points, sittings, seed },
    ...{ thrift: thriftFor(brief, request), screen: request.screen, perBottle: request.perBottle },
  };
  const { rehearse: asked } = request;
  const first = asked && part(hooks, 0, PLANNING);
  const planned = await planInThreads(input, { solver, hooks: first ?? hooks, workers });
  const { basis, thrift: told, ...plan } = planned;
  const noise = noiseOf(brief, request.noise, request.foundNoise);
  const judged = judgeBrief(brief, {
    ...{ solver, limits: request.limits },
    shelf: shelf && shelfOf(shelf),
  });
  const document = {
    ...plan,
    ...(told ? { thrift: thriftShown(brief, told, request) } : {}),
    ...weighUpPlan(brief, plan, noise),
    ...(request.compare
      ? { basis, ...planOffers(brief, input, plan.mixes, { solver, hooks: first ?? hooks, noise }) }
      : NOTHING_MORE),
    ...(asked
      ? {
          rehearsal: rehearsePlan(
            brief,
            { mixes: plan.mixes, already, noise, asked, seed },
            { solver, hooks: part(hooks, PLANNING, 1) },
          ),
        }
      : {}),
    warnings: [...plan.warnings, ...sittingsWarning(sittings, plan.sittingsCost), ...judged.warnings],
  };
  return documentOf(request, document, seed);
}

function sittingsNeeded(brief: Brief, mixes: number): number {
  const cups = (mixes + cupsBeside(brief)) * brief.panel.replicates;
  return Math.min(mixes, Math.ceil(cups / brief.panel.cupsPerSitting));
}

function sittingsWarning(sittings: number, cost: number | null): string[] {
  if (sittings === 1) return [];
  if (cost === null)
    return [
      `With ${sittings} sittings, what a sitting does to its cups cannot be kept apart from what the ratios do: pour one mix, or the reference, in every sitting.`,
    ];
  if (cost <= 1.25) return [];
  return [
    `Keeping ${sittings} sittings apart makes predictions ${Math.round(100 * (cost - 1))} % less certain (in variance): pour one mix, or the reference, in every sitting.`,
  ];
}
