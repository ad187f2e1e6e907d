import { availableParallelism } from 'node:os';
import type { LeftoverOnHand } from '../../engine/aim/leftover-types.ts';
import { proposeNext } from '../../engine/aim/propose-next.ts';
import type { Limit } from '../../engine/bench/limits.ts';
import { EngineError } from '../../engine/errors.ts';
import { checkpoint, type Hooks } from '../../engine/hooks.ts';
import { fitRatios } from '../../engine/model/fit-ratios.ts';
import type { AttributeFit, ModelName } from '../../engine/model/fit-types.ts';
import { predictRatios } from '../../engine/model/predict-ratios.ts';
import { createRandom } from '../../engine/numeric/random.ts';
import type { AsideAnswer, AsideQuestion } from '../../engine/panel/asides/aside-types.ts';
import { readAsides } from '../../engine/panel/asides/read-asides.ts';
import type { CupModel } from '../../engine/panel/cup-model.ts';
import { panelMap } from '../../engine/panel/map/panel-map.ts';
import type { DegreesMethod } from '../../engine/panel/mixed/types.ts';
import { type Attribute, type Serving, WARMUP } from '../../engine/panel/observations.ts';
import { readPanel } from '../../engine/panel/read-panel.ts';
import { drawSittings, type SittingsInput } from '../../engine/panel/serving-orders.ts';
import { describeRegion } from '../../engine/region/describe-region.ts';
import type { Region } from '../../engine/region/region.ts';
import type { WeighedMix } from '../../engine/region/weighed-mix.ts';
import { weighingGrid } from '../../engine/region/weighing-grid.ts';
import type { Brief } from '../schema/brief.ts';
import { byId, toAttributes } from '../schema/engine-shapes.ts';
import type { ShelfMaterial } from '../shelf/shelf-schema.ts';
import { loadSolver } from '../solver.ts';
import { coverPoints } from './cover-points.ts';
import { documentOf, spaceOf, type Tools } from './documents.ts';
import { type PlanRequest, planOperation } from './plan-operation.ts';
import type { NoiseById } from './weigh-up-plan.ts';

/**
 * One function an operation: validated input → engine → the document that the command prints and the workbench
 * stores. Command, HTTP interface and screens all come through here, so that they give the same answer.
 */
export interface PanelRequest extends CupModel {
  servings: readonly Serving[];
  attributes: readonly Attribute[];
  setAside?: readonly string[] | undefined;
  df?: DegreesMethod | undefined;
  /** What was asked beside the scales, and answered. */
  asides?: { questions: readonly AsideQuestion[]; answers: readonly AsideAnswer[] } | undefined;
  /** Draws the map of mixes and attributes too, with this seed. */
  mapSeed?: number | undefined;
  warnings?: readonly string[] | undefined;
}

/** How the panel worked. */
export function panelOperation(request: PanelRequest) {
  const { servings, attributes, setAside, df, adjust, assessorBySession, asides, mapSeed } = request;
  const input = { servings, attributes, assessorsSetAside: setAside, df, adjust, assessorBySession };
  const reading = {
    ...readPanel(input),
    ...(asides && asides.questions.length > 0
      ? { asides: readAsides(asides.questions, asides.answers, setAside) }
      : {}),
    ...(mapSeed === undefined
      ? {}
      : { map: panelMap(servings, attributes.length, createRandom(mapSeed, 'map'), { setAside }) }),
  };
  return documentOf(request, reading, mapSeed);
}

/** What has been weighed and tasted, with the brief it was for. */
export interface Tasted {
  brief: Brief;
  mixes: readonly WeighedMix[];
  servings: readonly Serving[];
  setAside?: readonly string[] | undefined;
  warnings?: readonly string[] | undefined;
}

export interface FitRequest extends Tasted, CupModel {
  /** Default `auto`. */
  model?: ModelName | 'auto' | undefined;
  df?: DegreesMethod | undefined;
}

/** How the ratios move each attribute. */
export function fitOperation(request: FitRequest, tools: Tools) {
  const { input, region } = fitInput(request, tools);
  const { low, high, centroid } = region;
  const fit = withWarnings(fitRatios(input), region.warnings);
  const everyone =
    (request.setAside ?? []).length > 0 ? fitRatios({ ...input, assessorsSetAside: [] }) : null;
  return documentOf(request, {
    ...fit,
    attributes: fit.attributes.map((attribute, at) => ({
      ...attribute,
      ...(everyone ? { withEveryone: briefly(everyone.attributes[at]!) } : {}),
    })),
    region: { low, high, centroid },
  });
}

/** Enough of a fit to see what setting somebody aside changed. */
function briefly({ model, blending, effects, leaveOneMixOut, variance }: AttributeFit): WithEveryone {
  return { model, blending, effects, leaveOneMixOut, variance };
}

type WithEveryone = Pick<AttributeFit, 'model' | 'blending' | 'effects' | 'leaveOneMixOut' | 'variance'>;

export interface PredictRequest extends FitRequest {
  rows: readonly { name: string; shares: readonly number[]; settings: readonly number[] }[];
  for?: 'panel' | 'population' | undefined;
  /** Counts what weighing the ratios on the brief's balance leaves uncertain. */
  weighing?: boolean | undefined;
  seed: number;
}

/** What given ratios should taste like. */
export function predictOperation(request: PredictRequest, tools: Tools) {
  const { input, region } = fitInput(request, tools);
  const { batch, stocks } = spaceOf(request.brief);
  const random = createRandom(request.seed, 'predict');
  const predictions = predictRatios({
    ...input,
    points: request.rows,
    cover: coverPoints(input.space, region, random.fork('cover')),
    random,
    for: request.for,
    weighing: request.weighing ? weighingGrid(input.space, batch, stocks) : undefined,
  });
  return documentOf(request, withWarnings(predictions, region.warnings), request.seed);
}

export interface NextRequest extends Tasted {
  count: number;
  /** The last of the mixes is to be where the models disagree. */
  settle?: boolean | undefined;
  /** What is left of earlier bottles, to make proposals from. */
  leftovers?: readonly LeftoverOnHand[] | undefined;
  /** How long a round rests, in hours. */
  restHours?: number | undefined;
  /** Grams on hand by component id, where something is short. */
  onHand?: Readonly<Record<string, number>> | undefined;
  model?: ModelName | 'auto' | undefined;
  seed: number;
}

/** The next ratios to mix, what to make if tasting stopped now, and whether to stop. */
export function nextOperation(request: NextRequest, { solver, hooks }: Tools) {
  const { brief, mixes, servings, count, settle, model, leftovers, restHours, onHand, seed } = request;
  const kept = withoutAssessors(servings, request.setAside);
  const attributes = toAttributes(brief);
  const prices = pricesOf(brief);
  const tasted = { attributes, mixes, servings: kept };
  const options = { count, settle, model, leftovers, restHours, onHand, prices, seed };
  const input = { ...spaceOf(brief), ...tasted, ...options };
  return documentOf(request, proposeNext(input, { solver }, hooks), seed);
}

/** Blind codes and serving orders. */
export function orderOperation(request: SittingsInput & { warnings?: readonly string[] | undefined }) {
  const { warnings: _, ...input } = request;
  return documentOf(request, { ...drawSittings(input), warnings: [] }, request.seed);
}

function pricesOf({ components }: Brief): Record<string, number> {
  return byId(
    components.filter(({ pricePerGram }) => pricePerGram !== undefined),
    ({ pricePerGram }) => pricePerGram!,
  );
}

function fitInput(request: FitRequest, { solver }: Tools) {
  const { space, names } = spaceOf(request.brief);
  const region = describeRegion(space, solver, { names });
  const input = {
    space,
    region,
    mixes: request.mixes,
    servings: request.servings.filter(({ mix }) => mix !== WARMUP),
    attributes: toAttributes(request.brief),
    model: request.model ?? ('auto' as const),
    df: request.df,
    assessorsSetAside: request.setAside,
    adjust: request.adjust,
    assessorBySession: request.assessorBySession,
  };
  return { input, region };
}

function withoutAssessors(servings: readonly Serving[], setAside: readonly string[] = []): Serving[] {
  const gone = new Set(setAside);
  return servings.filter(({ mix, assessor }) => mix !== WARMUP && !gone.has(assessor));
}

function withWarnings<T extends { warnings: readonly string[] }>(result: T, more: Region['warnings']) {
  return { ...result, warnings: [...more, ...result.warnings] };
}

/** What the workbench stores as the input of a result; the same kind, input and seed give the same result. */
interface StoredInput extends Tasted {
  asides?: readonly AsideAnswer[];
  already?: readonly WeighedMix[];
  leftovers?: readonly LeftoverOnHand[];
  restHours?: number;
  shelf?: readonly ShelfMaterial[];
  limits?: readonly Limit[];
  options?: { mixes: number; count: number } & Omit<StoredPlanOptions, 'mixes'>;
  foundNoise?: NoiseById;
  rows?: readonly StoredPlace[];
}

interface StoredPlace {
  name?: string | undefined;
  ratios: Readonly<Record<string, number>>;
  settings: Readonly<Record<string, number>>;
}

interface StoredPlanOptions
  extends Pick<
    PlanRequest,
    | 'mixes'
    | 'model'
    | 'criterion'
    | 'replicated'
    | 'sittings'
    | 'noise'
    | 'atMost'
    | 'points'
    | 'screen'
    | 'perBottle'
    | 'thrift'
    | 'spare'
    | 'compare'
    | 'rehearse'
  > {
  pinned?: readonly StoredPlace[];
  forbidden?: readonly StoredPlace[];
}

/**
 * Computes a stored result: `plan`, `next` and `predict` as the command prints them, `read` = `{panel, fit}`.
 *
 * @param input as put together by `assignPlan`, `assignReading`, `assignNext` and `assignPrediction`
 * @throws EngineError where the engine cannot use it or was asked to stop
 */
export async function compute(
  kind: 'plan' | 'read' | 'next' | 'predict',
  input: unknown,
  seed: number,
  hooks?: Hooks,
): Promise<unknown> {
  const tools = { solver: await loadSolver(), hooks };
  const stored = input as StoredInput;
  const { brief, already, options, shelf, limits } = stored;
  if (kind === 'plan') {
    const request = { ...planRequest(stored), brief, already, shelf, limits, seed };
    return planOperation(request, { ...tools, workers: availableParallelism() });
  }
  if (kind === 'next') return nextOperation({ ...stored, count: options!.count, seed }, tools);
  if (kind === 'predict') return predictOperation({ ...stored, rows: rowsOf(stored), seed }, tools);
  checkpoint(hooks, 0.05, 'reading the panel');
  const panel = panelOperation({
    ...stored,
    attributes: toAttributes(brief),
    asides: { questions: brief.asides ?? [], answers: stored.asides ?? [] },
  });
  checkpoint(hooks, 0.4, 'reading the ratios');
  return { panel, fit: fitOperation(stored, tools) };
}

function planRequest({ brief, options, foundNoise }: StoredInput) {
  const { pinned, forbidden, ...rest } = options!;
  return {
    ...rest,
    foundNoise,
    pinned: placesOf('pinned', brief, pinned),
    forbidden: placesOf('forbidden', brief, forbidden),
  };
}

function rowsOf({ brief, rows }: StoredInput): PredictRequest['rows'] {
  return placesOf('rows', brief, rows);
}

/** Shares and settings in the order of the brief. */
function placesOf(where: string, brief: Brief, rows: readonly StoredPlace[] = []): PredictRequest['rows'] {
  return rows.map(({ name, ratios, settings }, index) => {
    const parts = brief.components.map(({ id }) => (Object.hasOwn(ratios, id) ? ratios[id]! : 0));
    const total = parts.reduce((sum, part) => sum + part, 0);
    if (!(total > 0) || parts.some((part) => part < 0))
      throw new EngineError(
        'bad-argument',
        `${where}[${index}].ratios`,
        ratios,
        'shares of 0 or more, not all 0',
      );
    const values = brief.settings.map(({ id }) => (Object.hasOwn(settings, id) ? settings[id]! : Number.NaN));
    const missing = values.findIndex((value) => !Number.isFinite(value));
    if (missing >= 0)
      throw new EngineError(
        'bad-argument',
        `${where}[${index}].settings`,
        settings,
        `a value for ${brief.settings[missing]!.id}`,
      );
    return { name: name ?? `row ${index + 1}`, shares: parts.map((part) => part / total), settings: values };
  });
}
