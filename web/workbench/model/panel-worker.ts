import { type Chances, chancesOf, onScale } from '../../../engine/model/chance.ts';
import { buildPosterior } from '../../../engine/model/posterior.ts';
import type { PanelPosterior, Point } from '../../../engine/model/posterior-types.ts';
import { createRandom, type Random } from '../../../engine/numeric/random.ts';
import { type MapWithRegions, mapWithRegions } from '../../../engine/panel/map/map-regions.ts';
import { type Attribute, type Serving, WARMUP } from '../../../engine/panel/observations.ts';
import { toAttributes, toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import type { ReadInput } from '../results.ts';
import type { Answer, Question, Scores } from './messages.ts';

/** What has been learnt from one reading. */
interface Learnt {
  input: ReadInput;
  posterior: PanelPosterior;
  attributes: Attribute[];
  /** Ratios that were made: what `most` and `least` are compared with, among mixtures of them. */
  made: readonly Point[];
}

let learnt: Learnt | null = null;

addEventListener('message', ({ data }: MessageEvent<Question>) => postMessage(answer(data)));

function answer(question: Question): Answer {
  const { id } = question;
  try {
    if (question.ask === 'learn') {
      learnt = learn(question);
      return { id, done: 'learnt' };
    }
    if (learnt === null) return { id, done: 'failed', message: 'nothing has been learnt yet' };
    if (question.ask === 'scores') return { id, done: 'scores', scores: scoresAt(learnt, question.points) };
    if (question.ask === 'map') return { id, done: 'map', ...mapOf(learnt) };
    return { id, done: 'chances', chances: chancesAt(learnt, question.points, question.draws) };
  } catch (thrown) {
    return { id, done: 'failed', message: thrown instanceof Error ? thrown.message : String(thrown) };
  }
}

/** The same fit as the stored reading's, from the same input. */
function learn({ input, region }: Extract<Question, { ask: 'learn' }>): Learnt {
  const attributes = toAttributes(input.brief);
  const posterior = buildPosterior({
    space: toBlendSpace(input.brief),
    region,
    mixes: input.mixes,
    servings: input.servings.filter(({ mix }) => mix !== WARMUP),
    attributes,
    model: 'auto',
    assessorsSetAside: input.setAside,
  });
  return {
    input,
    posterior,
    attributes,
    made: input.mixes.map(({ shares, settings }) => ({ shares, settings })),
  };
}

function scoresAt({ posterior, attributes }: Learnt, points: readonly Point[]): (Scores | null)[] {
  return posterior.predict(points).map((found, k) => {
    if (posterior.attributes[k]!.status !== 'estimated') return null;
    const cut = (values: Float64Array) => values.map((value) => onScale(attributes[k]!, value));
    return { mean: cut(found.mean), low: cut(found.low), high: cut(found.high) };
  });
}

function chancesAt(
  { posterior, attributes, made }: Learnt,
  points: readonly Point[],
  draws: number,
): Chances {
  const random = createRandom(1, 'chances');
  const cover = attributes.some(({ target }) => target?.kind === 'most' || target?.kind === 'least')
    ? mixturesOf(made, random.fork('cover'), 200)
    : [];
  const joint = posterior.draws([...points, ...cover], draws, random);
  const usable = posterior.attributes.map(({ status }) => status === 'estimated');
  return chancesOf(attributes, joint, usable, points.length);
}

/** Who scored what, a table an assessor; a mix that nobody scored on some question is left off the map. */
function mapOf({ input, attributes }: Learnt): { mixes: string[]; map: MapWithRegions } {
  const heard = input.servings.filter(({ assessor }) => !input.setAside.includes(assessor));
  const names = [...new Set(heard.map(({ mix }) => mix))].filter((mix) => mix !== WARMUP);
  const own = (mix: string, k: number) =>
    heard.filter((serving) => serving.mix === mix && serving.scores[k] != null);
  const mixes = names.filter((mix) => attributes.every((_, k) => own(mix, k).length > 0));
  const tables = [...new Set(heard.map(({ assessor }) => assessor))].map((assessor) =>
    mixes.map((mix) =>
      attributes.map((_, k) =>
        meanOf(
          own(mix, k).filter((s) => s.assessor === assessor),
          k,
        ),
      ),
    ),
  );
  return { mixes, map: mapWithRegions(tables, createRandom(1, 'map'), { draws: 300 }) };
}

function meanOf(servings: readonly Serving[], k: number): number | null {
  if (servings.length === 0) return null;
  return servings.reduce((sum, { scores }) => sum + scores[k]!, 0) / servings.length;
}

/** Points made by mixing two ratios that were made: all of them allowed where the made ones are. */
function mixturesOf(made: readonly Point[], random: Random, count: number): Point[] {
  return Array.from({ length: count }, () => {
    const a = made[random.integer(made.length)]!;
    const b = made[random.integer(made.length)]!;
    const t = random.uniform();
    const between = (p: readonly number[], q: readonly number[]) => p.map((x, i) => x + t * (q[i]! - x));
    return { shares: between(a.shares, b.shares), settings: between(a.settings, b.settings) };
  });
}
